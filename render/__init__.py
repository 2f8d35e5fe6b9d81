"""What is made of a design: drawings, sheets, files for the shop."""
