"""What the meter must say after each step, and the verdict on what it does say."""
