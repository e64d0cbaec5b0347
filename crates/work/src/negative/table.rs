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
    /// Names of files, any number of them.
    Files,
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
    AnswerField {
        key: "also",
        flag: "PICTURE",
        label: "further pictures on the same sheet",
        hint: "through the same curve; the size of the film is said too",
        shape: AnswerShape::Files,
    },
    words(
        "width",
        "--width",
        "how wide the picture is on the film",
        "10in or 24cm, without its border; 10in,4in for two",
    ),
    words("height", "--height", "or how high", "8in; the other side follows from the picture"),
    words("ppi", "--ppi", "pixels to the inch", "720 when left empty"),
    words("crop", "--crop", "what of the picture is shown", "10%,5%,80%x90% from left and top, or 4:5 from its middle"),
    one_of("turn", "--turn", "by how many degrees it is turned, clockwise", "not turned unless said", TURNS),
    one_of(
        "filter",
        "--filter",
        "how it comes to its size",
        "lanczos3 unless said otherwise; area where it becomes much smaller",
        FILTERS,
    ),
    words(
        "sheet",
        "--sheet",
        "how large the film is",
        "8x10in, a4, letter or 297x210mm; as large as the picture unless said",
    ),
    words("film_margin", "--film-margin", "how much of the film stays free at each edge", "5mm when left empty"),
    words("gap", "--gap", "how much stays free between pictures", "4mm when left empty"),
    words("copies", "--copies", "how often each picture is on the film", "once when left empty"),
    words("setup", "--setup", "the set-up it is for", "that of the response whose curve it is"),
    words(
        "ink",
        "--ink",
        "the one ink it is printed in",
        "#204060, or 8224,16448,24672 of 65535; the set-up's, or grey; none for grey",
    ),
    words(
        "rule_measured",
        "--rule-measured",
        "what the rule in the border measured on a film",
        "99.5mm of 100, or 49.8mm of 50; the set-up's figure unless said",
    ),
    words(
        "rule_on",
        "--rule-on",
        "on which film that was",
        "its mark or name, or none: one made without correction; one made by the set-up's figure when left empty",
    ),
    words("day", "--day", "the day that stands in the border", "2026-05-14; none unless said"),
    one_of("depth", "--depth", "bits of a sample", "16 unless said otherwise", DEPTHS),
    one_of("dither", "--dither", "how 16 bits become 8", "diffusion unless said otherwise", DITHERS),
    one_of(
        "packing",
        "--compression",
        "how small the file is made",
        "deflate unless said otherwise; a PNG has a way of its own",
        &["none", "deflate", "lzw"],
    ),
    one_of(
        "border_sides",
        "--border-sides",
        "on which sides of the picture the border stands",
        "on all of them, or on those the film has room for, unless said",
        BORDER_SIDES,
    ),
    yes_no("no_border", "--no-border", "without a border", "the picture alone"),
    yes_no("no_invert", "--no-invert", "do not invert", "for film that is printed as a positive"),
    yes_no("no_mirror", "--no-mirror", "do not mirror", "where the ink side does not lie on the paper"),
    yes_no(
        "force",
        "--force",
        "in the place of what stands there",
        "a file of that name is taken away once this one is whole",
    ),
];

/// Quarter turns clockwise, in degrees.
pub(super) const TURNS: &[&str] = &["90", "180", "270"];
/// Ways to another size.
pub(super) const FILTERS: &[&str] = &["lanczos3", "cubic", "linear", "area"];
/// Sides of a border, in the order of `Sides::ALL`.
pub(super) const BORDER_SIDES: &[&str] = &["all", "short", "long", "one-short", "one-long"];
/// Bits of a sample.
pub(super) const DEPTHS: &[&str] = &["16", "8"];
/// Ways from 16 bits to 8.
pub(super) const DITHERS: &[&str] = &["blue-noise", "diffusion"];
