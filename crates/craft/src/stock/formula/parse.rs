//! The formula parser, by hand: errors must point at the character a person would point at.
//!
//! ```text
//! formula := part (dot waters? part)* charge?
//! part    := group+
//! group   := (element | '(' group+ ')' | '[' group+ ']' | '{' group+ '}') count?
//! waters  := whole | decimal | whole '/' whole | ½ ⅓ ⅔ ¼ ¾        (the number before a later part)
//! charge  := '^'? digits? sign | sign+
//! ```
//!
//! A digit run before a sign is a count, a charge or both. After a bracket, or on a single atom, it is the
//! charge (`[PdCl4]2-`, `Fe3+`); one digit elsewhere is the count (`NH4+`); anything longer is refused.

use alloc::string::String;
use alloc::vec::Vec;
use core::ops::Range;

use super::{Formula, FormulaError, multiple, written};
use crate::measure::shortened;
use crate::source::{Compound, Element, NAMED};

const MOST_CHARACTERS: usize = 200;
const MOST_NESTED: usize = 10;
const MOST_COUNT: u32 = 9999;
const MOST_CHARGE: i32 = 20;

type Counts = Vec<(Element, f64)>;

pub(super) fn parse(text: &str) -> Result<Formula, FormulaError> {
    if text.trim().is_empty() {
        return Err(FormulaError::Empty);
    }
    if text.chars().count() > MOST_CHARACTERS {
        return Err(FormulaError::TooLong { text: shortened(text.trim()), most: MOST_CHARACTERS });
    }
    let mut parser =
        Parser { text, chars: text.char_indices().map(|(at, c)| (at, plain(c))).collect(), place: 0, text_end: 0 };
    parser.formula()
}

/// Typographic forms of digits, signs and dots become the plain ones; nothing else changes.
fn plain(c: char) -> char {
    match c {
        '₀'..='₉' => char::from_u32('0' as u32 + (c as u32 - '₀' as u32)).unwrap_or(c),
        '•' | '⋅' | '∙' | '*' | '.' => '·',
        '−' | '–' => '-',
        _ => c,
    }
}

fn superscript(c: char) -> Option<char> {
    Some(match c {
        '⁰' => '0',
        '¹' => '1',
        '²' => '2',
        '³' => '3',
        '⁴'..='⁹' => char::from_u32('4' as u32 + (c as u32 - '⁴' as u32))?,
        '⁺' => '+',
        '⁻' => '-',
        _ => return None,
    })
}

struct Parser<'t> {
    text: &'t str,
    chars: Vec<(usize, char)>,
    place: usize,
    /// Where the atoms and counts read so far end: a charge behind them is not part of their text.
    text_end: usize,
}

/// What a digit run before a sign turned out to be.
struct CountAndCharge {
    count: f64,
    charge: Option<i32>,
}

impl Parser<'_> {
    fn peek(&self) -> Option<char> {
        self.chars.get(self.place).map(|&(_, c)| c)
    }

    fn next(&mut self) -> Option<char> {
        let c = self.peek()?;
        self.place += 1;
        Some(c)
    }

    /// Bytes from character `from` up to, and without, character `to`.
    fn span(&self, from: usize, to: usize) -> Range<usize> {
        let byte = |place: usize| self.chars.get(place).map_or(self.text.len(), |&(at, _)| at);
        byte(from)..byte(to)
    }

    /// The text between two bytes as it was typed: `.` and `*` are read as `·`, and said back as they were.
    fn typed(&self, at: &Range<usize>) -> &str {
        self.text.get(at.clone()).unwrap_or_default()
    }

    fn skip_spaces(&mut self) {
        while self.peek().is_some_and(char::is_whitespace) {
            self.place += 1;
        }
    }

    /// The named compound that differs from the text only in capitals.
    fn meant(&self) -> Option<&'static str> {
        let written = self.text.trim();
        NAMED.iter().map(|compound: &Compound| compound.formula).find(|f| f.eq_ignore_ascii_case(written))
    }

    fn formula(&mut self) -> Result<Formula, FormulaError> {
        self.skip_spaces();
        let mut counts = Counts::new();
        let (mut waters, mut dry, mut charge) = (0.0, String::new(), 0);
        let mut first = true;
        loop {
            let start = self.place;
            let times = if first { self.no_leading_number()? } else { self.times()? };
            let text_from = self.place;
            let (part, found) = self.part(0)?;
            if part.is_empty() {
                return Err(self.nothing_here(start));
            }
            let read = self.chars.get(text_from..self.text_end).unwrap_or_default();
            let part_text: String = read.iter().map(|&(_, c)| c).collect();
            if !first && is_water(&part) {
                waters += times;
            } else {
                if !first {
                    dry.push('·');
                    if times != 1.0 {
                        dry.push_str(&multiple(times));
                    }
                }
                dry.push_str(part_text.trim_end());
                add(&mut counts, &part, times);
            }
            first = false;
            if let Some(found) = found {
                charge = found;
                break;
            }
            self.skip_spaces();
            match self.peek() {
                None => break,
                Some('·') => {
                    self.next();
                    self.skip_spaces();
                }
                Some(_) => {
                    charge = self.charge()?;
                    break;
                }
            }
        }
        self.skip_spaces();
        if let Some(found) = self.peek() {
            return Err(self.unexpected(found));
        }
        self.finish(counts, waters, dry, charge)
    }

    fn finish(&self, mut counts: Counts, waters: f64, dry: String, charge: i32) -> Result<Formula, FormulaError> {
        counts.sort_by_key(|(element, _)| *element);
        let text = written(&dry, 0.0, charge);
        let bare = Formula { text, dry, counts, waters: 0.0, charge };
        if waters > 0.0 { bare.with_waters(waters) } else { bare.weighed() }
    }

    fn nothing_here(&self, start: usize) -> FormulaError {
        match self.peek() {
            Some('·') | None => FormulaError::PartMissing { at: self.span(start.saturating_sub(1), self.place + 1) },
            Some(found) => self.unexpected(found),
        }
    }

    fn unexpected(&self, found: char) -> FormulaError {
        let at = self.span(self.place, self.place + 1);
        match found {
            ')' | ']' | '}' => FormulaError::BracketUnopened { bracket: found, at },
            _ => {
                let found = self.typed(&at).chars().next().unwrap_or(found);
                FormulaError::Unexpected { found, at, meant: self.meant() }
            }
        }
    }

    fn digits(&mut self) -> (String, Range<usize>) {
        let start = self.place;
        let mut run = String::new();
        while let Some(c) = self.peek().filter(char::is_ascii_digit) {
            run.push(c);
            self.place += 1;
        }
        (run, self.span(start, self.place))
    }

    fn no_leading_number(&mut self) -> Result<f64, FormulaError> {
        let start = self.place;
        let (number, at) = self.digits();
        if number.is_empty() {
            Ok(1.0)
        } else {
            self.place = start;
            Err(FormulaError::LeadingNumber { number, at })
        }
    }

    /// The number before a later part: `6`, `2.5`, `1/2`, `½`; one when there is none.
    fn times(&mut self) -> Result<f64, FormulaError> {
        let start = self.place;
        if let Some(letter @ ('x' | 'n')) = self.peek() {
            return Err(FormulaError::WatersOpen { letter, at: self.span(start, start + 1) });
        }
        let vulgar = [('½', 1.0 / 2.0), ('⅓', 1.0 / 3.0), ('⅔', 2.0 / 3.0), ('¼', 1.0 / 4.0), ('¾', 3.0 / 4.0)];
        let mut number = String::new();
        let mut fraction = None;
        while let Some(c) = self.peek() {
            if fraction.is_some() && (c.is_ascii_digit() || vulgar.iter().any(|(sign, _)| *sign == c)) {
                // One number of waters: nothing follows its fraction.
                let at = self.span(start, self.place + 1);
                return Err(FormulaError::WatersMalformed { number: self.typed(&at).into(), at });
            }
            if c.is_ascii_digit() || c == '/' {
                number.push(c);
            } else if c == '·' || c == ',' {
                // A decimal mark only when a digit stands on both sides of it.
                let beside = self.chars.get(self.place + 1).is_some_and(|(_, next)| next.is_ascii_digit());
                if !beside || number.is_empty() {
                    break;
                }
                number.push('.');
            } else if let Some((_, part)) = vulgar.iter().find(|(sign, _)| *sign == c) {
                fraction = Some(*part);
            } else {
                break;
            }
            self.place += 1;
        }
        let at = self.span(start, self.place);
        let malformed = || FormulaError::WatersMalformed { number: self.typed(&at).into(), at: at.clone() };
        if number.is_empty() {
            return Ok(fraction.unwrap_or(1.0));
        }
        let whole = match number.split_once('/') {
            Some(_) if fraction.is_some() => return Err(malformed()),
            Some((above, below)) => {
                let above: f64 = above.parse().map_err(|_| malformed())?;
                let below: f64 = below.parse().map_err(|_| malformed())?;
                above / below
            }
            None => number.parse().map_err(|_| malformed())?,
        };
        let times = whole + fraction.unwrap_or(0.0);
        if times > 0.0 && times <= f64::from(MOST_COUNT) { Ok(times) } else { Err(malformed()) }
    }

    /// Groups up to a dot, a closing bracket, a charge or the end.
    fn part(&mut self, depth: usize) -> Result<(Counts, Option<i32>), FormulaError> {
        let mut counts = Counts::new();
        let mut atoms = 0;
        while let Some(c) = self.peek() {
            let start = self.place;
            let after_bracket = matches!(c, '(' | '[' | '{');
            let group = match c {
                '(' | '[' | '{' => self.bracket(c, depth)?,
                'A'..='Z' => Counts::from([(self.element()?, 1.0)]),
                _ => break,
            };
            atoms += 1;
            let single_atom = depth == 0 && atoms == 1 && start == self.first_place();
            let found = self.count_and_charge(depth, after_bracket, single_atom)?;
            add(&mut counts, &group, found.count);
            if found.charge.is_some() {
                return Ok((counts, found.charge));
            }
        }
        Ok((counts, None))
    }

    fn first_place(&self) -> usize {
        self.chars.iter().position(|(_, c)| !c.is_whitespace()).unwrap_or(0)
    }

    fn bracket(&mut self, opened: char, depth: usize) -> Result<Counts, FormulaError> {
        let start = self.place;
        self.next();
        if depth + 1 > MOST_NESTED {
            return Err(FormulaError::NestedTooDeep { most: MOST_NESTED, at: self.span(start, start + 1) });
        }
        let (inner, _) = self.part(depth + 1)?;
        let wanted = match opened {
            '(' => ')',
            '[' => ']',
            _ => '}',
        };
        match self.peek() {
            Some(found) if found == wanted => {
                if inner.is_empty() {
                    return Err(FormulaError::GroupEmpty { at: self.span(start, self.place + 1) });
                }
                self.next();
                Ok(inner)
            }
            Some(found @ (')' | ']' | '}')) => {
                Err(FormulaError::BracketMismatch { opened, found, at: self.span(self.place, self.place + 1) })
            }
            None => Err(FormulaError::BracketUnclosed { bracket: opened, at: self.span(start, start + 1) }),
            Some(found) => Err(self.unexpected(found)),
        }
    }

    fn element(&mut self) -> Result<Element, FormulaError> {
        let start = self.place;
        let mut symbol = String::new();
        symbol.extend(self.next());
        if let Some(c) = self.peek().filter(char::is_ascii_lowercase) {
            symbol.push(c);
            self.next();
        }
        let at = self.span(start, self.place);
        match Element::symbol(&symbol) {
            Some(element) => Ok(element),
            None if Element::exists(&symbol) => Err(FormulaError::ElementUnlisted { symbol, at }),
            None => Err(FormulaError::ElementUnknown { symbol, at, meant: self.meant() }),
        }
    }

    fn count_and_charge(
        &mut self,
        depth: usize,
        after_bracket: bool,
        single_atom: bool,
    ) -> Result<CountAndCharge, FormulaError> {
        self.text_end = self.place;
        let (run, at) = self.digits();
        let signed = depth == 0 && matches!(self.peek(), Some('+' | '-'));
        if run.is_empty() {
            return Ok(CountAndCharge { count: 1.0, charge: None });
        }
        if signed && (after_bracket || single_atom) {
            let Some(size) = run.parse().ok().filter(|size| (1..=MOST_CHARGE).contains(size)) else {
                return Err(FormulaError::ChargeMalformed { charge: run, at });
            };
            let sign = if self.next() == Some('+') { 1 } else { -1 };
            return Ok(CountAndCharge { count: 1.0, charge: Some(sign * size) });
        }
        if signed && run.len() > 1 {
            return Err(FormulaError::ChargeAmbiguous { digits: run, at });
        }
        if run.starts_with('0') {
            return Err(FormulaError::CountZero { count: run, at });
        }
        match run.parse::<u32>() {
            Ok(count) if count <= MOST_COUNT => {
                self.text_end = self.place;
                Ok(CountAndCharge { count: f64::from(count), charge: None })
            }
            _ => Err(FormulaError::CountTooLarge { count: run, most: MOST_COUNT, at }),
        }
    }

    /// A charge that stands by itself: `^2-`, `+`, `--`, `²⁻`.
    fn charge(&mut self) -> Result<i32, FormulaError> {
        let start = self.place;
        let caret = self.peek() == Some('^');
        if caret {
            self.next();
        }
        let mut written = String::new();
        while let Some(c) = self.peek() {
            match superscript(c) {
                Some(low) => written.push(low),
                None if matches!(c, '+' | '-') || c.is_ascii_digit() => written.push(c),
                None => break,
            }
            self.place += 1;
        }
        if written.is_empty() && !caret {
            // OK because `charge` is called only where some character stands.
            return Err(self.unexpected(self.peek().expect("BUG: no character where one was seen")));
        }
        let at = self.span(start, self.place);
        let malformed = || FormulaError::ChargeMalformed { charge: self.typed(&at).into(), at: at.clone() };
        let digits: String = written.chars().filter(char::is_ascii_digit).collect();
        let signs: String = written.chars().filter(|c| !c.is_ascii_digit()).collect();
        let one_kind = signs.bytes().all(|b| b == b'+') || signs.bytes().all(|b| b == b'-');
        let sign = match signs.chars().next() {
            Some('+') if one_kind => 1,
            Some('-') if one_kind => -1,
            _ => return Err(malformed()),
        };
        let in_order = written.starts_with(&digits) || written.ends_with(&digits);
        if digits.is_empty() {
            let size = i32::try_from(signs.len()).unwrap_or(i32::MAX);
            return if size <= MOST_CHARGE { Ok(sign * size) } else { Err(malformed()) };
        }
        if signs.len() != 1 || !in_order {
            return Err(malformed());
        }
        match digits.parse::<i32>() {
            Ok(size @ 1..=MOST_CHARGE) => Ok(sign * size),
            _ => Err(malformed()),
        }
    }
}

fn add(counts: &mut Counts, more: &[(Element, f64)], times: f64) {
    for &(element, count) in more {
        match counts.iter_mut().find(|(own, _)| *own == element) {
            Some((_, sum)) => *sum += count * times,
            None => counts.push((element, count * times)),
        }
    }
}

fn is_water(part: &[(Element, f64)]) -> bool {
    part.len() == 2
        && part.iter().all(|&(element, count)| match element {
            Element::H => count == 2.0,
            Element::O => count == 1.0,
            _ => false,
        })
}
