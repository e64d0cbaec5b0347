"""Prints check digits of ISO/IEC 7064 MOD 11,10 for the numbers of items, as python-stdnum computes them."""

from stdnum.iso7064 import mod_11_10

NUMBERS = [1, 2, 9, 10, 17, 42, 99, 100, 123, 794, 999, 1000, 4711, 7946, 9999, 10000, 79462, 123456]

print("number,code")
for number in NUMBERS:
    text = f"{number:04d}"
    print(f"{number},{text}{mod_11_10.calc_check_digit(text)}")
