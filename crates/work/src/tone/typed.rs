//! Readings as a person pastes them: a table with heads, or two numbers to a line.

use handcoat_craft::measure::{read_digits, shortened};

use crate::{Question, Refusal, Remedy};

/// What a line of bare numbers looks like.
const EXAMPLE: &str = "0.35 48.2";

/// A table out of what was pasted. A first line with letters is the head of a table, which is left as it is; of plain numbers each line is an
/// input and the lightness of its patch.
///
/// # Errors
/// [`Refusal`] with the line that is no reading.
pub fn pasted_chart(text: &str) -> Result<String, Refusal> {
    let about = Question::Table;
    let lines: Vec<(usize, &str)> =
        text.lines().enumerate().map(|(at, own)| (at + 1, own.trim())).filter(|own| !own.1.is_empty()).collect();
    let Some((_, head)) = lines.first() else { return Err(Refusal::missing(about, EXAMPLE)) };
    if head.chars().any(char::is_alphabetic) {
        return Ok(text.into());
    }
    let mut table = String::from("input,l_star\n");
    for (line, own) in lines {
        let mut cells: Vec<&str> = own.split(|sign: char| sign.is_whitespace() || sign == ';').collect();
        cells.retain(|own| !own.is_empty());
        // `0.35,48.2`: where a point is the decimal mark, a comma parts two numbers.
        if let [only] = cells.as_slice()
            && only.contains('.')
            && let Some((one, other)) = only.split_once(',')
        {
            cells = vec![one, other];
        }
        let number = |text: &str| {
            let read = read_digits("reading", "`48.2`", text).ok();
            read.filter(|own| own.1.is_empty()).map(|own| own.0.to_f64())
        };
        let pair = match cells.as_slice() {
            [input, lightness] => {
                let part =
                    input.strip_suffix('%').map_or_else(|| number(input), |own| number(own).map(|own| own / 100.0));
                part.zip(number(lightness))
            }
            [input, "%", lightness] => number(input).map(|own| own / 100.0).zip(number(lightness)),
            _ => None,
        };
        let Some((input, lightness)) = pair else {
            let cause = format!(
                "line {line}: `{}` is no reading; expected an input from 0 to 1 and the L* of its patch, as `{EXAMPLE}`",
                shortened(own)
            );
            return Err(Refusal::unreadable(
                "reading_unreadable",
                about,
                cause,
                vec![Remedy::Write(about, EXAMPLE.into())],
            ));
        };
        table.push_str(&format!("{input},{lightness}\n"));
    }
    Ok(table)
}
