"""Charts drawn into pictures: pure geometry, the same for a page and for a screen.

Nothing is told by colour alone: bars carry their words, curves end in their sign, lines of
reference say what they are. No label lies over another, and nothing leaves the picture.
"""

from boxlamp.paper.forms.plot_bars import bar_picture
from boxlamp.paper.forms.plot_curves import curve_picture

__all__ = ["bar_picture", "curve_picture"]
