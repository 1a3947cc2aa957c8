"""What a person sees: one view model, and its forms.

``board`` turns a verdict into plain words and numbers; ``layout`` sets those as lines of styled
text for a given width and height; ``show_rich`` and ``attend`` colour the lines, ``plain``
prints one fact per line for scripts and screen readers, ``machine`` is the JSON.
"""
