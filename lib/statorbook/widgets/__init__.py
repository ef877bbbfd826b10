"""Controls that know no chapter: form, grid, guard, frame, table."""
