"""What builds the wheel, the reference and the pictures; no part of the package."""
