//! What can panic in the product says above why it does not.

use crate::house::rust_files;

/// Words that end a program, and methods that do when they are asked for what is not there.
const WORDS: [&str; 9] =
    ["unwrap(", "expect(", "panic!", "unreachable!", "todo!", "unimplemented!", "assert!", "assert_eq!", "split_at("];
/// How many lines above it the reason may begin.
const ABOVE: usize = 3;

/// A line of code without its comment and without what stands between quotes.
fn code(line: &str) -> String {
    let mut out = String::new();
    let mut letters = line.chars().peekable();
    let mut quoted = false;
    while let Some(c) = letters.next() {
        match c {
            '\\' if quoted => {
                letters.next();
            }
            // A quote as a character is no string.
            '\'' if !quoted && letters.peek() == Some(&'"') => {
                letters.next();
                letters.next();
            }
            '"' => quoted = !quoted,
            '/' if !quoted && letters.peek() == Some(&'/') => break,
            c if !quoted => out.push(c),
            _ => {}
        }
    }
    out
}

/// Whether something is indexed by a range: `text[2..]`, `&rows[a..=b]`; not an array, a type or an attribute.
fn indexes_by_range(code: &str) -> bool {
    let letters: Vec<char> = code.chars().collect();
    let opens = |place: usize| {
        place > 0
            && letters[place] == '['
            && (letters[place - 1].is_alphanumeric() || "_)]".contains(letters[place - 1]))
    };
    (0..letters.len()).filter(|&place| opens(place)).any(|place| {
        let mut depth = 0;
        let inside: String = letters[place..]
            .iter()
            .take_while(|&&c| {
                depth += i32::from(c == '[') - i32::from(c == ']');
                depth > 0
            })
            .collect();
        // The whole of something is always there.
        inside.contains("..") && inside != "[.."
    })
}

/// Line numbers of what may panic and does not say why it cannot.
fn unexplained(text: &str) -> Vec<usize> {
    let lines: Vec<&str> = text.lines().collect();
    let risky = |line: &str| {
        let code = code(line);
        WORDS.iter().any(|word| code.match_indices(word).any(|(at, _)| starts_a_word(&code, at)))
            || indexes_by_range(&code)
    };
    let reason =
        |place: usize| lines[place.saturating_sub(ABOVE)..=place].iter().any(|line| line.contains("OK because"));
    (0..lines.len()).filter(|&place| risky(lines[place]) && !reason(place)).map(|place| place + 1).collect()
}

/// `debug_assert!` is no `assert!`, and `my_expect(` no `expect(`.
fn starts_a_word(code: &str, at: usize) -> bool {
    code[..at].chars().next_back().is_none_or(|before| !before.is_alphanumeric() && before != '_')
}

#[test]
fn nothing_panics_without_a_reason() {
    the_search_is_not_blind();
    let mut found = Vec::new();
    for (path, text) in rust_files("crates") {
        if path.components().any(|part| part.as_os_str() == "tests") {
            continue;
        }
        found.extend(unexplained(&text).into_iter().map(|line| format!("{}:{line}", path.display())));
    }
    assert!(found.is_empty(), "no \"OK because\" above:\n{}", found.join("\n"));
}

/// The search itself, tried before it is trusted.
fn the_search_is_not_blind() {
    const RISKY: [&str; 12] = [
        "let a = b.unwrap();",
        "let a = b\n    .expect(\"BUG: none\");",
        "let a = Option::expect(b, \"x\");",
        "panic!(\"no\")",
        "_ => unreachable!(),",
        "todo!()",
        "unimplemented!(\"later\")",
        "assert_eq!(a, b);",
        "let a = &text[2..];",
        "let a = text.as_str()[..at].len();",
        "let (a, b) = text.split_at(3);",
        "// OK because\n\n\n\nlet a = b.unwrap();",
    ];
    for text in RISKY {
        assert_eq!(unexplained(text).len(), 1, "{text}");
    }
    const SOUND: [&str; 11] = [
        "let a = &[][..];",
        "let a = b.unwrap_or_default();",
        "// OK because one stands above.\nlet a = b.unwrap();",
        "// OK because of this:\nlet a = b\n    .c()\n    .expect(\"BUG\");",
        "/// let a = b.unwrap();",
        "let a = \"panic!\"; // unwrap()",
        "for a in [0..2, 3..4] {}",
        "let a: [u8; 3] = [1, 2, 3];",
        "debug_assert!(a);",
        "let a = text.get(2..);",
        "#[doc = \"a..b\"]",
    ];
    for text in SOUND {
        assert_eq!(unexplained(text), Vec::<usize>::new(), "{text}");
    }
}
