"""Steel as the models take it unless the record says otherwise. A procedure may change each value."""

import math

REFERENCE_C = 20.0  # ISO 1:2022

ALPHA_RING = 12.0e-6  # 1/K, 20 to 120 °C, through-hardened bearing steel (textbook value, from memory)
ALPHA_SHAFT = 11.5e-6  # 1/K, carbon and low-alloy steel, also gauges and masters
U_ALPHA_RING = 0.6e-6 / math.sqrt(3)  # 1/K, rectangular ± 0.6e-6

YOUNG_GPA = 208.0
POISSON = 0.30
DENSITY_KG_M3 = 7810.0
HEAT_CAPACITY_J_KG_K = 470.0

DEFAULTS_UNCONFIRMED = ("α of ring and shaft: textbook values, from memory",)
