"""How long is too long: every limit as one record of data, with its source.

``default.toml`` holds the limits. ``records`` says what a record is and reads the file,
``book`` gives the limits in force for one litter over time, ``risk`` finds what tightens them,
``overrides`` judges changed limits, ``own_file`` reads a vet's own.
Nothing here opens a file: the text is handed in.
"""
