//! Counts so large that they are read across a dim room.

/// Rows of one digit, three columns each; a column is printed twice, because a terminal's cells are taller than wide.
const DIGITS: [[&str; 5]; 10] = [
    ["###", "# #", "# #", "# #", "###"],
    [" # ", "## ", " # ", " # ", "###"],
    ["###", "  #", "###", "#  ", "###"],
    ["###", "  #", "###", "  #", "###"],
    ["# #", "# #", "###", "  #", "  #"],
    ["###", "#  ", "###", "  #", "###"],
    ["###", "#  ", "###", "# #", "###"],
    ["###", "  #", "  #", "  #", "  #"],
    ["###", "# #", "###", "# #", "###"],
    ["###", "# #", "###", "  #", "###"],
];
/// Width of a digit with the gap behind it.
const DIGIT_WIDTH: usize = 8;

/// A count with what it is of beside its middle, set in `digits` places.
pub(super) fn count(number: u32, digits: usize, beside: &str) -> String {
    let text = number.to_string();
    let mut out = String::new();
    for row in 0..5 {
        let mut line = String::from("  ");
        line.push_str(&" ".repeat(DIGIT_WIDTH * digits.saturating_sub(text.len())));
        for digit in text.chars().filter_map(|c| c.to_digit(10)) {
            let cells = DIGITS.get(digit as usize).and_then(|rows| rows.get(row)).copied().unwrap_or_default();
            for cell in cells.chars() {
                line.push_str(if cell == '#' { "██" } else { "  " });
            }
            line.push_str("  ");
        }
        if row == 2 {
            line.push_str(&format!("  {beside}"));
        }
        out.push_str(line.trim_end());
        out.push('\n');
    }
    out
}
