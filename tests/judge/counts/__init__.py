"""The second judge: counts, readings, thresholds and dates, decided afresh for any one instant."""
