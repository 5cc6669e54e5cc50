"""Exact quantities as printed.

Floor 0.

Files import downward in this order: form, number, unit, words, quantity, reading, value, spoken.
"""

from kb.quantity.form import Form, Side
from kb.quantity.number import (
    DECIMAL_PATTERN,
    FRACTION_PATTERN,
    Number,
    Toward,
    decimal_step,
    read_number,
    round_to_step,
    write_number,
)
from kb.quantity.quantity import Quantity, crank_angle, in_words, plain_angle, signed_quantity
from kb.quantity.reading import read_quantity
from kb.quantity.spoken import angle_in_words, plain, spoken_angle, spoken_quantity
from kb.quantity.unit import (
    CORRECTION_KEYS,
    CRANK_KEYS,
    DEGREE_OF_CRANK,
    KEY_DIMENSIONS,
    PISTON_IN,
    PISTON_MM,
    PLAIN_KEYS,
    SIDE_KEYS,
    UNITS,
    VALUE_KEYS,
    WORD_KEYS,
    Dimension,
    Unit,
    unit_of,
)
from kb.quantity.value import (
    Correction,
    CorrectionPoint,
    Order,
    Value,
    Words,
    read_under,
    read_value,
    value_key,
    value_keys,
    write_value,
)

__all__ = [
    "CORRECTION_KEYS",
    "CRANK_KEYS",
    "DECIMAL_PATTERN",
    "DEGREE_OF_CRANK",
    "FRACTION_PATTERN",
    "KEY_DIMENSIONS",
    "PISTON_IN",
    "PISTON_MM",
    "PLAIN_KEYS",
    "SIDE_KEYS",
    "UNITS",
    "VALUE_KEYS",
    "WORD_KEYS",
    "Correction",
    "CorrectionPoint",
    "Dimension",
    "Form",
    "Number",
    "Order",
    "Quantity",
    "Side",
    "Toward",
    "Unit",
    "Value",
    "Words",
    "angle_in_words",
    "crank_angle",
    "decimal_step",
    "in_words",
    "plain",
    "plain_angle",
    "read_number",
    "read_quantity",
    "read_under",
    "read_value",
    "round_to_step",
    "signed_quantity",
    "spoken_angle",
    "spoken_quantity",
    "unit_of",
    "value_key",
    "value_keys",
    "write_number",
    "write_value",
]
