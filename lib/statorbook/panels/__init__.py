"""Panels: the widgets a reader moves; they hold no physics and call what the reader could call by hand."""
