//! Tests of an iron solution: what to do, and how to read it. A maker may write down tests of another name too.

use super::Citation;

/// A test with a name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Testing {
    /// Its name.
    pub name: &'static str,
    /// What is done and what it means.
    pub how: &'static str,
    /// What a failure asks for.
    pub failed: &'static str,
    /// Where that comes from.
    pub cite: Citation,
}

/// The tests, most telling first.
pub const TESTS: &[Testing] = &[
    Testing {
        name: "ferrous",
        how: "a little of it with one or two crystals of potassium ferricyanide under safelight, without acid: orange to brown \
              passes, blue or grey fails",
        failed: "There is iron(II) in it, and it will fog: mix it again",
        cite: Citation::practice("ferricyanide test for iron(II)"),
    },
    Testing {
        name: "works-at-all",
        how: "the same mixture of a little solution and ferricyanide, then under the UV lamp: it must turn blue",
        failed: "It does not answer to light: the solid is no good",
        cite: Citation::practice("ferricyanide test after light"),
    },
    Testing {
        name: "fog strip",
        how: "coat a strip, keep it from light, develop, clear and dry it: any tone is fog",
        failed: "It fogs without light: look for iron(II), for stray light, and at the paper",
        cite: Citation::practice("unexposed strip"),
    },
];
