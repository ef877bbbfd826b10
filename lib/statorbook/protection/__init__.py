"""What keeps the machine from burning or running away."""
