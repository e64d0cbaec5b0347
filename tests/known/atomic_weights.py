"""Prints atomic weights after two libraries, as the CSV the craft tests compare with.

Needs periodictable 2.1.0 and molmass 2026.1.8 to be importable; other versions may carry other tables.

    python3 atomic_weights.py > atomic_weights.csv
"""

import molmass
import periodictable

SYMBOLS = """
H Li B C N O F Na Mg Al Si P S Cl K Ca Ti V Cr Mn Fe Co Ni Cu Zn As Se Br Rb Sr Mo Ru Rh Pd Ag Cd Sn Sb I Cs
Ba Ce W Re Os Ir Pt Au Hg Tl Pb Bi
""".split()

print("symbol,periodictable,bound,molmass")
for symbol in SYMBOLS:
    element = getattr(periodictable, symbol)
    # The library's own name for the ± of the table it copied.
    numbers = element.mass, element._mass_unc, molmass.ELEMENTS[symbol].mass
    print(symbol, *(f"{number:.12g}" for number in numbers), sep=",")
