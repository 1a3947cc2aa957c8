"""How long is too long: every limit as one record of data, with its source.

``default.toml`` holds the limits. ``records`` says what a record is and reads the file,
``book`` gives the limits in force for one litter over time, ``risk`` finds what tightens them,
``overrides`` judges a vet's own limits. Nothing here opens a file: the text is handed in.
"""
