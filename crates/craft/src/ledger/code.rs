//! The short number printed on an item, with its check digit.

use alloc::string::String;
use core::fmt;
use core::str::FromStr;

use super::ItemNumber;

/// Digits before the check digit, at least.
const WIDTH: usize = 4;

/// The number of an item with a check digit after ISO/IEC 7064 MOD 11,10: digits only, because a wet glove finds ten
/// large keys and not thirty-six. It finds every single wrong digit and nearly every swap of neighbours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct ItemCode(ItemNumber);

impl ItemCode {
    /// The code of an item.
    #[must_use]
    pub fn of(item: ItemNumber) -> Self {
        Self(item)
    }

    /// The item it stands for.
    #[must_use]
    pub fn item(self) -> ItemNumber {
        self.0
    }
}

/// ISO/IEC 7064 MOD 11,10 over decimal digits.
fn check_digit(digits: &[u8]) -> u8 {
    let product = digits.iter().fold(10_u8, |product, digit| {
        let sum = (product + digit) % 10;
        let sum = if sum == 0 { 10 } else { sum };
        sum * 2 % 11
    });
    (11 - product) % 10
}

impl fmt::Display for ItemCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let number = alloc::format!("{:0width$}", self.0.get(), width = WIDTH);
        let digits: alloc::vec::Vec<u8> = number.bytes().map(|byte| byte - b'0').collect();
        write!(f, "{number}{}", check_digit(&digits))
    }
}

/// Why a text is no item's code.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CodeError {
    /// Not digits of a code's length.
    #[error("`{written}` is no code; expected at least {} digits as on the label", WIDTH + 1)]
    Shape {
        /// What was written.
        written: String,
    },
    /// The last digit does not belong to those before it.
    #[error("`{written}` is no code that was printed: a digit is wrong or two are swapped")]
    Check {
        /// What was written.
        written: String,
    },
}

impl FromStr for ItemCode {
    type Err = CodeError;

    fn from_str(text: &str) -> Result<Self, CodeError> {
        let digits: alloc::vec::Vec<u8> =
            text.bytes().filter(|byte| *byte != b' ').map(|byte| byte.wrapping_sub(b'0')).collect();
        let shape = || CodeError::Shape { written: text.into() };
        let (&check, number) = digits.split_last().ok_or_else(shape)?;
        // Longer numbers than needed are not printed: `00017` for 17 is no code.
        let padded = number.len() > WIDTH && number.first() == Some(&0);
        if number.len() < WIDTH || number.len() > 9 || padded || digits.iter().any(|digit| *digit > 9) {
            return Err(shape());
        }
        if check_digit(number) != check {
            return Err(CodeError::Check { written: text.into() });
        }
        let number = number.iter().fold(0_u32, |sum, digit| sum * 10 + u32::from(*digit));
        ItemNumber::new(number).map(Self).ok_or_else(shape)
    }
}
