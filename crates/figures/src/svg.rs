//! The few SVG elements our drawings are made of.

use std::fmt::Write as _;

/// Where a drawing is going to stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Theme {
    /// On a page: colours are CSS variables of the page.
    Page,
    /// On paper: colours are literal, and readable when printed in black.
    Paper,
}

/// The colours a drawing uses, by what they say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Ink {
    /// Lines and words.
    Main,
    /// Quiet words.
    Soft,
    /// Hairlines.
    Line,
    /// The metal.
    Metal,
    /// The light.
    Light,
    /// A pale band.
    Band,
    /// What it stands on.
    Sheet,
}

impl Theme {
    pub(crate) fn colour(self, ink: Ink) -> &'static str {
        match (self, ink) {
            (Self::Page, Ink::Main) => "var(--ink)",
            (Self::Page, Ink::Soft) => "var(--soft)",
            (Self::Page, Ink::Line) => "var(--line)",
            (Self::Page, Ink::Metal) => "var(--metal)",
            (Self::Page, Ink::Light) => "var(--light)",
            (Self::Page, Ink::Band) => "var(--line)",
            (Self::Page, Ink::Sheet) => "var(--sheet)",
            (Self::Paper, Ink::Main) => "#000000",
            (Self::Paper, Ink::Soft) => "#4a4a4a",
            (Self::Paper, Ink::Line) => "#9a9a9a",
            (Self::Paper, Ink::Metal) => "#000000",
            (Self::Paper, Ink::Light) => "#000000",
            (Self::Paper, Ink::Band) => "#d8d8d8",
            (Self::Paper, Ink::Sheet) => "#ffffff",
        }
    }
}

/// How a text is set against its point.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

/// A drawing being made. Coordinates are in points of the drawing's own width.
pub(crate) struct Drawing {
    theme: Theme,
    out: String,
}

impl Drawing {
    pub(crate) fn new(theme: Theme, width: f64, height: f64, title: &str, description: &str) -> Self {
        let mut out = String::new();
        let _ = write!(
            out,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" width=\"{width}\" \
             height=\"{height}\" role=\"img\"><title>{}</title><desc>{}</desc>",
            escape(title),
            escape(description)
        );
        Self { theme, out }
    }

    pub(crate) fn line(&mut self, ink: Ink, width: f64, from: (f64, f64), to: (f64, f64)) {
        let colour = self.theme.colour(ink);
        let _ = write!(
            self.out,
            "<line x1=\"{:.2}\" y1=\"{:.2}\" x2=\"{:.2}\" y2=\"{:.2}\" stroke=\"{colour}\" stroke-width=\"{width}\"/>",
            from.0, from.1, to.0, to.1
        );
    }

    pub(crate) fn rect(&mut self, ink: Ink, at: (f64, f64), size: (f64, f64)) {
        let colour = self.theme.colour(ink);
        let _ = write!(
            self.out,
            "<rect x=\"{:.2}\" y=\"{:.2}\" width=\"{:.2}\" height=\"{:.2}\" fill=\"{colour}\"/>",
            at.0,
            at.1,
            size.0.max(0.0),
            size.1
        );
    }

    /// An open circle: a measured point.
    pub(crate) fn ring(&mut self, ink: Ink, at: (f64, f64), radius: f64) {
        let colour = self.theme.colour(ink);
        let _ = write!(
            self.out,
            "<circle cx=\"{:.2}\" cy=\"{:.2}\" r=\"{radius}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"2\"/>",
            at.0, at.1
        );
    }

    pub(crate) fn text(&mut self, ink: Ink, size: f64, anchor: Anchor, at: (f64, f64), text: &str) {
        let colour = self.theme.colour(ink);
        let anchor = match anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let _ = write!(
            self.out,
            "<text x=\"{:.2}\" y=\"{:.2}\" font-family=\"Alegreya Sans\" font-size=\"{size}\" fill=\"{colour}\" \
             text-anchor=\"{anchor}\">{}</text>",
            at.0,
            at.1,
            escape(text)
        );
    }

    /// A hairline in dashes.
    pub(crate) fn dashed(&mut self, ink: Ink, width: f64, from: (f64, f64), to: (f64, f64)) {
        self.polyline(ink, width, Some("3 4"), &[from, to]);
    }

    /// A line through points in order.
    pub(crate) fn polyline(&mut self, ink: Ink, width: f64, dashes: Option<&str>, through: &[(f64, f64)]) {
        let colour = self.theme.colour(ink);
        let dashes = dashes.map_or(String::new(), |own| format!(" stroke-dasharray=\"{own}\""));
        let points = corners(through);
        let _ = write!(
            self.out,
            "<polyline points=\"{points}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"{width}\" \
             stroke-linejoin=\"round\"{dashes}/>"
        );
    }

    /// A filled area.
    pub(crate) fn area(&mut self, ink: Ink, around: &[(f64, f64)]) {
        let colour = self.theme.colour(ink);
        let _ = write!(self.out, "<polygon points=\"{}\" fill=\"{colour}\"/>", corners(around));
    }

    /// A circle with a ground of its own, so that lines beneath it stop at its edge.
    pub(crate) fn dot(&mut self, ground: Ink, edge: Ink, at: (f64, f64), radius: f64) {
        let (ground, edge) = (self.theme.colour(ground), self.theme.colour(edge));
        let _ = write!(
            self.out,
            "<circle cx=\"{:.2}\" cy=\"{:.2}\" r=\"{radius}\" fill=\"{ground}\" stroke=\"{edge}\" stroke-width=\"1.6\"/>",
            at.0, at.1
        );
    }

    /// Begins a group that says something when it is pointed at; seen from 0 (not) to 1 (wholly).
    pub(crate) fn open_group(&mut self, seen: f64, words: &str) {
        let _ = write!(self.out, "<g opacity=\"{seen:.2}\"><title>{}</title>", escape(words));
    }

    pub(crate) fn close_group(&mut self) {
        self.out.push_str("</g>");
    }

    /// A text with a rim of the ground around it, so that it is read over lines.
    pub(crate) fn halo(&mut self, ink: Ink, size: f64, at: (f64, f64), text: &str) {
        let (colour, rim) = (self.theme.colour(ink), self.theme.colour(Ink::Sheet));
        let _ = write!(
            self.out,
            "<text x=\"{:.2}\" y=\"{:.2}\" font-family=\"Alegreya Sans\" font-size=\"{size}\" fill=\"{colour}\" \
             stroke=\"{rim}\" stroke-width=\"4\" stroke-linejoin=\"round\" paint-order=\"stroke\">{}</text>",
            at.0,
            at.1,
            escape(text)
        );
    }

    pub(crate) fn finish(mut self) -> String {
        self.out.push_str("</svg>");
        self.out
    }
}

fn corners(points: &[(f64, f64)]) -> String {
    let each: Vec<String> = points.iter().map(|own| format!("{:.2},{:.2}", own.0, own.1)).collect();
    each.join(" ")
}

fn escape(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
