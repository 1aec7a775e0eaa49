"""Canvas sizes, crops, head size, transfer grid, paint quantity and cautions at set-up."""
