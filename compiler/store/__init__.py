"""What was made before, kept under the digest of what it was made from. A cache: deleting it changes no byte of any output."""
