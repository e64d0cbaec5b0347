//! The answers about a negative as a table: every door that asks them, and a job that keeps them, reads it.

/// How an answer is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AnswerShape {
    /// In words: a length, a number, as the hint shows.
    Words,
    /// One of these words.
    OneOf(&'static [&'static str]),
    /// Said or not.
    YesNo,
}

/// One answer about a negative.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AnswerField {
    /// Its key in JSON: the name of the field of [`super::NegativeAnswers`].
    pub key: &'static str,
    /// Its flag on the command line.
    pub flag: &'static str,
    /// What is asked, in the maker's words.
    pub label: &'static str,
    /// A typical answer, and what holds when nothing is said.
    pub hint: &'static str,
    /// How it is given.
    pub shape: AnswerShape,
}

const fn words(key: &'static str, flag: &'static str, label: &'static str, hint: &'static str) -> AnswerField {
    AnswerField { key, flag, label, hint, shape: AnswerShape::Words }
}

const fn one_of(
    key: &'static str,
    flag: &'static str,
    label: &'static str,
    hint: &'static str,
    all: &'static [&'static str],
) -> AnswerField {
    AnswerField { key, flag, label, hint, shape: AnswerShape::OneOf(all) }
}

const fn yes_no(key: &'static str, flag: &'static str, label: &'static str, hint: &'static str) -> AnswerField {
    AnswerField { key, flag, label, hint, shape: AnswerShape::YesNo }
}

/// Every answer, in the order of the work.
pub static ANSWER_FIELDS: &[AnswerField] = &[
    words("width", "--width", "how wide the picture is on the film", "10in or 24cm, without its border"),
    words("height", "--height", "or how high", "8in; the other side follows from the picture"),
    words("ppi", "--ppi", "pixels to the inch", "720"),
    one_of(
        "packing",
        "--compression",
        "how a TIFF is packed",
        "deflate unless said otherwise; a PNG has a way of its own",
        &["none", "deflate", "lzw"],
    ),
    yes_no("no_border", "--no-border", "without a border", "the picture alone"),
    yes_no("no_invert", "--no-invert", "light and dark as they are", "for film that is printed as a positive"),
    yes_no("no_mirror", "--no-mirror", "left and right as they are", "where the ink side does not lie on the paper"),
    yes_no(
        "force",
        "--force",
        "in the place of what stands there",
        "a file of that name is taken away once this one is whole",
    ),
];
