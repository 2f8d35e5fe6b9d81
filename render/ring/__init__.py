"""One ring drawn: outline for the shop, lit preview, stress picture."""

__all__ = ["lit", "outline", "part", "preview", "stress", "sunk", "tones"]
