"""All groupings side by side: verdict, ±, how firm the choice is, and what else would suit."""
