"""An independent judge: the clocks of the catalogue told a second time, in temporal logic."""
