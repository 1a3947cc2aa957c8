"""What a protocol costs: its alerts over many imagined nights, and what it catches."""
