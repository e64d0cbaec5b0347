"""Prints molar masses after two libraries, as the CSV the craft tests compare with.

Needs periodictable 2.1.0 and molmass 2026.1.8 to be importable; other versions may carry other tables.

    python3 molar_masses.py > molar_masses.csv
"""

import re

import molmass
import periodictable

# Water of crystallisation is written as the tests write it; both libraries read it as a bracket.
FORMULAS = """
PdCl2 PdCl2·2H2O NaCl KCl NH4Cl LiCl CsCl
Na2PdCl4 Na2PdCl4·3H2O K2PdCl4 (NH4)2PdCl4 Li2PdCl4 Cs2PdCl4
K2PtCl4 (NH4)2PtCl4 Na2PtCl4 Na2PtCl6 Na2PtCl6·6H2O K2PtCl6 (NH4)2PtCl6 Cs2PtCl6 H2PtCl6·6H2O
HAuCl4·3H2O
Fe2(C2O4)3 Fe2(C2O4)3·5H2O Fe2(C2O4)3·6H2O (NH4)3Fe(C2O4)3·3H2O
H2C2O4 H2C2O4·2H2O K2C2O4 K2C2O4·H2O KClO3 K2Cr2O7
Na4C10H12N2O8 Na4C10H12N2O8·2H2O Na4C10H12N2O8·4H2O Na2C10H14N2O8·2H2O C10H16N2O8
C6H8O7 C6H8O7·H2O Na2SO3 HCl (NH4)2C6H6O7 Na3C6H5O7 Na3C6H5O7·2H2O H2O H2O2
K3Fe(CN)6
""".split()


def spelled(formula: str) -> str:
    return re.sub(r"·(\d*)H2O", lambda m: f"(H2O){m.group(1)}", formula)


print("formula,periodictable,molmass")
for formula in FORMULAS:
    text = spelled(formula)
    masses = periodictable.formula(text).mass, molmass.Formula(text).mass
    print(formula, *(f"{mass:.9f}" for mass in masses), sep=",")
