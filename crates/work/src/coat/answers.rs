//! What somebody answered about a coat, as they wrote it, and reading it.

use handcoat_craft::coat::{Coats, Ratio, RatioBy, Rounding};
use handcoat_craft::measure::{DropsPerMillilitre, Length, Readable, Share, Size, Uncertain, Uptake, shortened};
use handcoat_craft::paper::{Dropper, DropperFrom, Margin, Sheet, Tool, UptakeRule};
use handcoat_craft::source::FIRST_COAT;

use super::known::Known;
use crate::stock::{needed, read, read_count};
use crate::{Question, Refusal, Remedy};

/// Answers to the questions of a coat plan. `None` is a question left open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs, reason = "each field answers the question of the same name")]
pub struct CoatAnswers {
    pub image: Option<String>,
    pub margin: Option<String>,
    /// A paper that is kept.
    pub paper: Option<String>,
    /// A tool that is kept, or the word of a sort: `rod`, `brush`, `thirsty`.
    pub tool: Option<String>,
    pub uptake: Option<String>,
    pub share: Option<String>,
    /// How far the share may be off (k = 2).
    pub share_off: Option<String>,
    /// `20`, or for one solution `iron 18.5` or `metal 21.2±0.4` (k = 2).
    pub drops_per_ml: Vec<String>,
    /// `Pd`, `Na2PdCl4 15% 190EUR/100mL`, or a bottle.
    pub metals: Vec<String>,
    pub ratio: Option<String>,
    pub ratio_by: Option<String>,
    /// `27%`, `Fe2(C2O4)3 27% 30EUR/100mL`, or a bottle.
    pub iron: Option<String>,
    pub hydrate: Option<String>,
    /// `KClO3 0.4%`, `Na2PtCl6`, `H2O2 3%`, or a bottle.
    pub contrast: Option<String>,
    pub dose: Option<String>,
    pub first_coat: Option<String>,
    pub double: bool,
    pub sheets: Option<String>,
    pub loss: Option<String>,
    pub within: Option<String>,
    pub printing_out: bool,
}

/// The places a dropper can belong to.
pub(super) const PLACES: [&str; 5] = ["iron", "chlorate", "metal", "second", "contrast"];

/// Most sheets of one plan.
const MOST_SHEETS: u32 = 1000;

/// A word that is none of those there are: the cause, and each of them to write.
fn none_of(about: Question, text: &str, what: &str, words: &[&str]) -> (String, Vec<Remedy>) {
    let all: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    let cause = format!("`{}` is no {what}; expected {}", shortened(text.trim()), all.join(", "));
    (cause, words.iter().map(|word| Remedy::Write(about, (*word).into())).collect())
}

impl CoatAnswers {
    pub(super) fn sheet(&self) -> Result<Sheet, Refusal> {
        let text = needed(Question::Image, self.image.as_ref(), "8x10in")?;
        let image = Size::read(text).map_err(|error| Refusal::quantity(Question::Image, Size::FORMS, &error))?;
        let margin = read::<Length>(Question::Margin, self.margin.as_ref())?.map_or(Margin::Customary, Margin::Real);
        Ok(Sheet { image, margin })
    }

    /// The sort whose habit stands in where nothing was measured.
    fn tool(&self, known: &Known) -> Result<Tool, Refusal> {
        let usual = if self.printing_out { Tool::Rod } else { Tool::Brush };
        if let Some(own) = &known.tool {
            return Ok(own.sort.unwrap_or(usual));
        }
        let Some(text) = &self.tool else { return Ok(usual) };
        Tool::ALL.into_iter().find(|tool| tool.word() == text.trim()).ok_or_else(|| {
            let about = Question::Tool;
            let (cause, remedies) = none_of(about, text, "tool", &Tool::ALL.map(Tool::word));
            Refusal::unreadable("tool_unknown", about, cause, remedies)
        })
    }

    /// What was said holds; then what the paper was found to take, or the tool to lay, and the share of it; then the habit.
    pub(super) fn uptake(&self, known: &Known) -> Result<UptakeRule, Refusal> {
        let tool = self.tool(known)?;
        let asked = read::<Uptake>(Question::Uptake, self.uptake.as_ref())?;
        let share = read::<Share>(Question::PaperShare, self.share.as_ref())?;
        let off = read::<Share>(Question::ShareOff, self.share_off.as_ref())?;
        if let (None, Some(_)) = (share, off) {
            let about = Question::ShareOff;
            let cause = String::from("it is said how far the share may be off, and not the share");
            let remedies = vec![Remedy::Write(Question::PaperShare, "90%".into()), Remedy::LeaveOut(about)];
            return Err(Refusal::rule("share_missing", about, cause, remedies));
        }
        // ± is k = 2.
        let said = share.map(|share| Uncertain::new(share, off.map_or(0.0, |off| off.of_whole() / 2.0)));
        let of_paper = known.paper.as_ref().and_then(|own| own.uptake);
        let of_tool = known.tool.as_ref().and_then(|own| own.uptake);
        let on_paper = asked.or(of_paper).or(of_tool);
        // An uptake that is said is all that is poured, unless its share is said as well.
        let kept = known.tool.as_ref().and_then(|own| own.share).filter(|_| asked.is_none());
        match (on_paper, said.or(kept)) {
            (Some(on_paper), Some(share)) => Ok(UptakeRule::Measured { on_paper, share }),
            (Some(uptake), None) => Ok(UptakeRule::Stated(uptake)),
            (None, Some(_)) if said.is_some() => {
                let about = Question::PaperShare;
                let cause = String::from(
                    "a share on the paper says nothing without what the paper takes; a tool's habit is all that is poured",
                );
                let remedies = vec![Remedy::Write(Question::Uptake, "0.34mL/100cm2".into()), Remedy::LeaveOut(about)];
                Err(Refusal::rule("share_without_uptake", about, cause, remedies))
            }
            (None, _) => Ok(UptakeRule::Habit { tool, printing_out: self.printing_out }),
        }
    }

    /// The droppers that were said: one for all, and those of single places.
    pub(super) fn droppers(&self) -> Result<Vec<(Option<&'static str>, Dropper)>, Refusal> {
        let mut out: Vec<(Option<&'static str>, Dropper)> = Vec::new();
        for text in &self.drops_per_ml {
            let (place, figure) = read_dropper(text)?;
            if out.iter().any(|(own, _)| *own == place) {
                let about = Question::DropSize;
                let of = place.map_or(String::from("all"), |place| format!("the {place}"));
                let cause = format!("the drops of {of} are given twice");
                return Err(Refusal::rule("drops_said_twice", about, cause, vec![Remedy::LeaveOut(about)]));
            }
            out.push((place, figure));
        }
        Ok(out)
    }

    pub(super) fn ratio(&self) -> Result<Option<Ratio>, Refusal> {
        let Some(text) = &self.ratio else {
            if self.ratio_by.is_some() {
                let about = Question::RatioBy;
                let cause = String::from("it is said what a ratio counts, and not the ratio");
                let remedies = vec![Remedy::Write(Question::MetalRatio, "1:1".into()), Remedy::LeaveOut(about)];
                return Err(Refusal::rule("ratio_missing", about, cause, remedies));
            }
            return Ok(None);
        };
        let about = Question::MetalRatio;
        let part =
            |text: &str| text.trim().replace(',', ".").parse::<f64>().ok().filter(|own| *own > 0.0 && *own <= 10_000.0);
        let parts = text.split_once(':').and_then(|(first, second)| Some((part(first)?, part(second)?)));
        let (first, second) = parts.ok_or_else(|| {
            let cause =
                format!("`{}` is no ratio; expected two parts above zero, as `1:1` or `70:30`", shortened(text));
            Refusal::unreadable("ratio_unreadable", about, cause, vec![Remedy::Write(about, "1:1".into())])
        })?;
        let words = RatioBy::ALL.map(RatioBy::word);
        let Some(by) = &self.ratio_by else {
            let about = Question::RatioBy;
            let cause = format!(
                "a ratio of {} without its unit says nothing: equal volumes of the usual solutions are 51:49 by moles and 37:63 by weight",
                shortened(text.trim())
            );
            let remedies = words.iter().map(|word| Remedy::Write(about, (*word).into())).collect();
            return Err(Refusal::rule("ratio_unit_missing", about, cause, remedies));
        };
        let by = RatioBy::ALL.into_iter().find(|own| own.word() == by.trim()).ok_or_else(|| {
            let about = Question::RatioBy;
            let (cause, remedies) = none_of(about, by, "unit of a ratio", &words);
            Refusal::unreadable("ratio_unit_unknown", about, cause, remedies)
        })?;
        Ok(Some(Ratio { first, second, by }))
    }

    pub(super) fn coats(&self) -> Result<Coats, Refusal> {
        let about = Question::FirstCoat;
        let part = read::<Share>(about, self.first_coat.as_ref())?;
        match (part, self.double) {
            (Some(part), _) if part.of_whole() >= 1.0 => {
                let cause = String::from("a first coat of full strength is not thinned; expected less than 100%");
                Err(Refusal::rule("first_coat_full", about, cause, vec![Remedy::Write(about, "50%".into())]))
            }
            (Some(part), _) => Ok(Coats::Double(part)),
            (None, true) => Share::part(FIRST_COAT.value).map(Coats::Double).map_err(|e| Refusal::bounds(about, &e)),
            (None, false) => Ok(Coats::Single),
        }
    }

    pub(super) fn rounding(&self) -> Result<Rounding, Refusal> {
        let within = read::<Share>(Question::KeepWithin, self.within.as_ref())?;
        Ok(within.map_or(Rounding::Plain, Rounding::Within))
    }

    pub(super) fn sheets(&self) -> Result<(u32, Option<Share>), Refusal> {
        let sheets = read_count(Question::Sheets, self.sheets.as_ref(), 1, 1..=MOST_SHEETS)?;
        Ok((sheets, read(Question::Loss, self.loss.as_ref())?))
    }
}

/// `20`, `20drops/mL`, `iron 18.5`, `metal 21.2±0.4`: the ± is k = 2.
fn read_dropper(text: &str) -> Result<(Option<&'static str>, Dropper), Refusal> {
    let about = Question::DropSize;
    let trimmed = text.trim();
    let place = PLACES
        .into_iter()
        .find(|place| trimmed.strip_prefix(place).is_some_and(|rest| rest.starts_with([' ', '=', ':'])));
    let figure = place
        .and_then(|place| trimmed.strip_prefix(place))
        .map_or(trimmed, |rest| rest.trim_start_matches([' ', '=', ':']));
    let (value, off) = figure.split_once('±').map_or((figure, None), |(value, off)| (value, Some(off)));
    // The flag says the unit already.
    let with_unit = |text: &str| {
        let bare = text.trim_end().ends_with(|c: char| c.is_ascii_digit());
        if bare { format!("{text} drops/mL") } else { text.to_owned() }
    };
    let read = |text: &str| {
        DropsPerMillilitre::read(&with_unit(text))
            .map_err(|error| Refusal::quantity(about, "`20` or `metal 21.2`", &error))
    };
    let best = read(value)?;
    let Some(off) = off else { return Ok((place, Dropper::stated(best))) };
    let expanded = off.trim().trim_end_matches("drops/mL").trim().replace(',', ".").parse::<f64>();
    let expanded = expanded.ok().filter(|own| own.is_finite() && *own >= 0.0 && *own < best.to_per_millilitre());
    let expanded = expanded.ok_or_else(|| {
        let cause = format!("`{}` is no ± of a drop size; expected less than the figure itself", shortened(off.trim()));
        Refusal::unreadable("drops_off_unreadable", about, cause, vec![Remedy::Write(about, "metal 21.2±0.4".into())])
    })?;
    Ok((place, Dropper { per_ml: Uncertain::new(best, expanded / 2.0), from: DropperFrom::Calibrated(1) }))
}
