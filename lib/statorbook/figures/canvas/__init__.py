"""Keep a figure's artists and write them as SVG."""
