"""The usual cautions, worded once and printed at every step where they belong.

Knives, cutters and presses: school and library bindery rules (NSEAD health and safety; bench
practice). Whatever the maker of a tool or an adhesive says goes before these.
"""

KNIFE = (
    "A sharp blade, several light strokes along a steel rule, the holding hand behind the blade, "
    "cutting away from the body. Draw the blade in after each cut; throw used blades away in a "
    "closed tin. No blades where a child reaches."
)
AWL = (
    "Prick into foam or a trough, never towards a hand. Put corks on awl and needles when they "
    "lie down."
)
PRESS = "Fingers out before the press or the weight comes down."
GLUE = (
    "Read and keep to what the maker of the adhesive says of air, skin and drying; that goes "
    "before these sheets. Keep glue off printed areas: inks may bleed."
)
