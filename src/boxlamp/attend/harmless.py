"""The line in the input, drawn so that nothing pasted into it can disturb the screen."""

from prompt_toolkit.layout.processors import Processor, Transformation, TransformationInput

from boxlamp.language.text import visible


class Harmless(Processor):
    """Draws each dangerous character as U+FFFD, as it will stand in the record.

    One for one, so that the cursor stands where it stood.
    """

    def apply_transformation(self, transformation_input: TransformationInput) -> Transformation:
        """The line as it is drawn."""
        drawn = [(one[0], visible(one[1])) for one in transformation_input.fragments]
        return Transformation([*drawn])
