//! Words of this door: flags for questions, commands for remedies, exit codes for refusals.

use std::fmt::Write as _;

use clap::error::ErrorKind;
use handcoat_work::{Question, Refusal, RefusalKind, Remedy};

use super::Usage;

/// The exit code of a refusal.
pub(super) fn exit_code(kind: RefusalKind) -> u8 {
    match kind {
        RefusalKind::Failed => 1,
        RefusalKind::Unreadable => 2,
        RefusalKind::Missing => 3,
        RefusalKind::Refused => 4,
        RefusalKind::Damaged => 5,
        RefusalKind::Busy => 6,
    }
}

/// A stable code for what the argument parser refuses.
pub(super) fn usage_code(kind: ErrorKind) -> &'static str {
    match kind {
        ErrorKind::InvalidSubcommand => "command_unknown",
        ErrorKind::MissingSubcommand | ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand => "command_missing",
        ErrorKind::UnknownArgument => "argument_unknown",
        ErrorKind::MissingRequiredArgument => "argument_missing",
        ErrorKind::ArgumentConflict => "argument_repeated",
        ErrorKind::InvalidUtf8 => "argument_not_text",
        _ => "argument_unreadable",
    }
}

/// The flag that answers a question; a bare word for positional arguments.
pub(super) fn flag(question: Question) -> &'static str {
    match question {
        Question::Powder => "--salt",
        Question::Chloride => "--with",
        Question::Volume => "--make",
        Question::PercentComplex => "--percent-complex",
        Question::Molarity => "--molarity",
        Question::SaltPer100Ml => "--salt-per-100ml",
        Question::MetalPerMl => "--metal-per-ml",
        Question::SaltMass => "--salt-mass",
        Question::Bottle => "--bottle",
        Question::Budget => "--budget",
        Question::ChlorideRatio => "--chloride-ratio",
        Question::ChlorideMass => "--chloride-mass",
        Question::Purity => "--purity",
        Question::PurityOf => "--purity-of",
        Question::Hydrate => "--hydrate",
        Question::MolarMass => "--stated-molar-mass",
        Question::Price => "--price-salt",
        Question::Balance => "--balance",
        Question::Glass => "--glass",
        Question::Rinses => "--rinses",
        Question::Meets => "--meets",
        Question::Weighed => "--weighed",
        Question::ChlorideWeighed => "--chloride-weighed",
        Question::Mixed => "--mixed",
        Question::Added => "--added",
        Question::Percent => "--percent",
        Question::FirstRung => "--from",
        Question::Keep => "--keep",
        Question::Rungs => "--rungs",
        Question::Substance => "FORMULA",
        Question::Studio => "--studio",
        Question::Date => "--day",
        Question::OutputFile => "--sheet",
        Question::OutputFolder => "DIR",
        Question::Act => "ACT",
        Question::Amount => "--amount",
        Question::Bench => "WORK",
        Question::Book => "--book",
        Question::Capacity => "--capacity",
        Question::ChlorideFrom => "--chloride-from",
        Question::Copy => "COPY",
        Question::Currency => "--currency",
        Question::Density => "--density",
        // Asked on a page only.
        Question::EmergencyNumber => "--emergency-number",
        Question::Empty => "--empty",
        Question::Evaporated => "--evaporated",
        Question::From => "--from",
        Question::Full => "--full",
        Question::Gross => "--gross",
        Question::Instant => "--at",
        Question::Into => "--into",
        Question::Item => "ITEM",
        Question::JarMass => "--mass",
        Question::JarPrice => "--price",
        Question::Key => "--key",
        Question::HazardStatement => "--statement",
        Question::LabelOffset => "--offset",
        Question::LabelSheet => "--on",
        Question::LabelStart => "--start",
        Question::Output => "--output",
        Question::Pictogram => "--pictogram",
        Question::SheetDate => "--date",
        Question::SignalWord => "--signal",
        Question::Supplier => "--supplier",
        Question::Measured => "--volume",
        Question::Level => "--level",
        Question::MetalPrice => "--metal-price",
        Question::Name => "--name",
        Question::PowderOffer => "--powder",
        Question::SolutionOffer => "--solution",
        Question::PowderWeighed => "--mass",
        Question::Test => "--test",
        Question::Verdict => "VERDICT",
        Question::Vial => "--vial",
        Question::Water => "--water",
        Question::Way => "--way",
        Question::DecimalMark => "--decimal-mark",
        Question::Table => "FILE",
        Question::Field(field) => field.flag,
        Question::Pieces => "--came",
        Question::Pour => "--pour",
        Question::Title => "TITLE",
        Question::Print => "PRINT",
        Question::Coat => "--coat",
        Question::Reason => "--because",
        Question::Photo => "--photo",
        Question::Sign => "--shows",
        Question::Kind => "KIND",
        Question::Prints => "--prints",
        Question::PrintNamed => "--print",
        Question::Exposure => "--exposure",
        Question::People => "--people",
        Question::Lamps => "--lamps",
        Question::Frames => "--frames",
        Question::Trays => "--trays",
        Question::Baths => "--baths",
        Question::DryingPlaces => "--drying-places",
        Question::HumidPlaces => "--humid-places",
        Question::WashHolds => "--wash-holds",
        Question::CoatSpan => "--coat",
        Question::DrySpan => "--dry",
        Question::HumidifySpan => "--humidify",
        Question::LoadSpan => "--load",
        Question::DevelopSpan => "--develop",
        Question::ClearSpan => "--clear",
        Question::WashSpan => "--wash",
        Question::HangSpan => "--hang",
        Question::Start => "--start",
        Question::PageSize => "--page",
        Question::PaperSize => "--paper",
        Question::PercentAs => "--percent-as",
        Question::And => "--and",
        Question::FromStock => "--from-stock",
        Question::StockDensity => "--stock-density",
        Question::Image => "--image",
        Question::Margin => "--margin",
        Question::Tool => "--tool",
        Question::MeasuredOn => "--on",
        Question::CoatPaper => "--paper",
        Question::Uptake => "--uptake",
        Question::PaperShare => "--share",
        Question::ShareOff => "--share-off",
        Question::DropSize => "--drops-per-ml",
        Question::CoatMetal => "--metal",
        Question::MetalRatio => "--ratio",
        Question::RatioBy => "--ratio-by",
        Question::CoatIron => "--iron",
        Question::ContrastAgent => "--contrast",
        Question::Dose => "--dose",
        Question::FirstCoat => "--first-coat",
        Question::Sheets => "--sheets",
        Question::Loss => "--loss",
        Question::KeepWithin => "--within",
        Question::Temperature => "--temperature",
        Question::BoxSalt => "--salt",
        Question::DropRun => "RUN",
        Question::WaterAt => "--water-at",
        Question::PaperWeighed => "--paper",
        Question::BrushWeighed => "--brush",
        Question::GlassWeighed => "--glass",
        Question::Session => "SESSION",
        Question::PrintOf => "--print",
        Question::Late => "--late",
        Question::DropOf => "--drop",
        Question::Timer => "TIMER",
        Question::TimerName | Question::KeptName => "NAME",
        Question::Rename => "--rename",
        Question::TimerSpan => "TIME",
        Question::TestTime => "--test-time",
        Question::TestUnits => "--test-units",
        Question::Shoulder => "--shoulder",
        Question::BlackWithin => "--black-within",
        Question::ReadingNoise => "--reading-u",
        Question::LastBlack => "--last-black",
        Question::LastTone => "--last-tone",
        Question::FirstStep => "--first-step",
        Question::StepIncrement => "--increment",
        Question::StepCount => "--steps",
        Question::StripFirst => "--first",
        Question::StripUntil => "--until",
        Question::StripPart => "--stops",
        Question::StripTapped => "--tapped",
        Question::Setup => "--setup",
        Question::TestDose => "--dose",
        Question::ExposureTest => "TEST",
        Question::LadderAgent => "--agent",
        Question::LadderWedge => "--wedge",
        Question::Job => "JOB",
        Question::Negative => "NEGATIVE",
        Question::NegativeRange => "--range",
        Question::NegativeRangeOff => "--range-u",
        Question::LampKind => "--lamp",
        Question::DistanceFrom => "--from",
        Question::DistanceTo => "--to",
        Question::Target => "--target",
        Question::Prior => "--prior",
        Question::ScanFacts => "--scan",
        Question::Response => "RESPONSE",
        Question::PatchSide => "--patch",
        Question::PatchMost => "--most",
        Question::ChartSheet => "--sheet",
        Question::ChartLevels => "--levels",
        Question::Seed => "--seed",
        Question::Scan => "SCAN",
        Question::ScanBox => "--box",
        Question::ScannerGamma => "--scanner-gamma",
        Question::Reference => "--reference",
        Question::OverlayFile => "--overlay",
        Question::LinkFile => "--device-link",
        Question::ProfileFile => "--profile",
        Question::ProofOf => "--of",
        Question::ProofPixels => "--pixels",
        Question::Tint => "--tint",
        Question::CurveFile => "--csv",
        Question::PlotFile => "--plot",
        Question::ReportFile => "--pdf",
        Question::Picture => "PICTURE",
        Question::Curve => "--curve",
        Question::PrintWidth => "--width",
        Question::PrintHeight => "--height",
        Question::Ppi => "--ppi",
        Question::Packing => "--compression",
        Question::Crop => "--crop",
        Question::Turn => "--turn",
        Question::Filter => "--filter",
        Question::FilmSheet => "--sheet",
        Question::FilmMargin => "--film-margin",
        Question::FilmGap => "--gap",
        Question::Copies => "--copies",
        Question::InkColour => "--ink",
        Question::RuleMeasured => "--rule-measured",
        Question::RuleFilm => "--rule-on",
        Question::BitDepth => "--depth",
        Question::Dither => "--dither",
        Question::BorderSides => "--border-sides",
        Question::StripLength => "--length",
        Question::Preview => "--preview",
    }
}

/// A typical answer, so that a remedy can be pasted.
fn example(question: Question) -> &'static str {
    match question {
        Question::Volume => "60mL",
        Question::SaltMass => "5.4g",
        Question::Bottle => "100mL",
        Question::Budget => "400EUR",
        _ => "…",
    }
}

/// A remedy as something to type.
pub(super) fn remedy(remedy: &Remedy) -> String {
    match remedy {
        Remedy::Write(question, text) => match flag(*question) {
            positional if !positional.starts_with('-') => format!("write {positional} as {}", quoted(text)),
            flag => format!("{flag} {}", quoted(text)),
        },
        Remedy::AnswerOneOf(questions) if questions.len() == 1 => questions
            .iter()
            .map(|&question| format!("another {}, such as {}", flag(question), example(question)))
            .collect(),
        Remedy::AnswerOneOf(questions) => {
            let ways: Vec<String> =
                questions.iter().map(|&question| format!("{} {}", flag(question), example(question))).collect();
            format!("give one of: {}", ways.join(", "))
        }
        Remedy::LeaveOut(question) => format!("leave out {}", flag(*question)),
        Remedy::Shorten(question) => format!("give {} in fewer words", flag(*question)),
        Remedy::FinerScale(step) => format!("weigh on a finer scale: --balance {step}"),
        Remedy::AnotherName => "choose another name, or move what is there".into(),
        Remedy::AnotherPlace => "write to a folder that exists and is yours to write to".into(),
        Remedy::MakeBook => "handcoat new studio.handcoat".into(),
        Remedy::LaterProgram => "use the later program that wrote it".into(),
        Remedy::RestoreCopy => "handcoat restore COPY".into(),
        Remedy::CheckBook => "handcoat check".into(),
        Remedy::TryAgain => "wait a moment and do it again".into(),
        Remedy::TakeStock(name) => format!("handcoat stock count {}", quoted(name)),
        Remedy::LargerBottle(volume) => format!("take a bottle that holds {volume}"),
        Remedy::UndoFirst(act) => format!("handcoat undo {act}"),
        Remedy::LoseAsResidue(name) => format!("handcoat stock lose {} --amount … --residue", quoted(name)),
        Remedy::ShowShelf => "handcoat stock shelf".into(),
        Remedy::ListKept => "handcoat keep list".into(),
        Remedy::ChangeSetup(name, question, answer) => {
            format!("handcoat keep setup {} --change {} {}", quoted(name), flag(*question), quoted(answer))
        }
        Remedy::ListNegatives => "handcoat negative list".into(),
        Remedy::ListJobs => "handcoat negative jobs".into(),
        Remedy::ResumeJob(number) => format!("handcoat negative resume {number}"),
        Remedy::ResumeWith(number, question, answer) => {
            format!("handcoat negative resume {number} {} {}", flag(*question), quoted(answer))
        }
        Remedy::PutAwayJob(number) => format!("handcoat negative put-away {number}"),
        Remedy::ListTests => "handcoat expose list".into(),
        Remedy::ListResponses => "handcoat tone list".into(),
        Remedy::ListCoats => "handcoat coat open".into(),
        Remedy::ListPrints => "handcoat print list".into(),
        Remedy::ListSessions => "handcoat session list".into(),
        Remedy::ListTimers => "handcoat session timers".into(),
        Remedy::OtherPicture => {
            "open it in a picture program and save it as a TIFF or PNG of 8 or 16 bits, grey or RGB".into()
        }
        Remedy::ReadTheJar => "read formula, water and metal content on the jar or its certificate again".into(),
        Remedy::ScanAgain => "scan the print again as it says; --overlay FILE shows what was found".into(),
        Remedy::SmallerPicture => "save it as a JPEG or PNG of less than 20 MB".into(),
        Remedy::AnotherPort => "handcoat serve --port 0".into(),
        Remedy::LookFirst => "do it without --yes first: it lists all that is found, and what each column takes".into(),
        Remedy::ListActs => "handcoat ledger acts".into(),
        Remedy::MakeRoom => "make room on that disk, or write to another one".into(),
    }
}

/// Quotes what a shell would take apart.
pub(super) fn quoted(text: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '.' | ',' | '%' | '-' | '/' | ':' | '_');
    if !text.is_empty() && text.chars().all(plain) {
        return text.into();
    }
    format!("'{}'", text.replace('\'', "'\\''"))
}

/// A refusal as text: cause, place, next steps, code.
pub(super) fn refusal(refusal: &Refusal) -> String {
    let about = refusal.about.map(flag).map_or(String::new(), |flag| format!("{flag}: "));
    let mut out = format!("{about}{}\n", refusal.cause);
    if let Some(excerpt) = &refusal.excerpt {
        let marks = "^".repeat(excerpt.chars.len().max(1));
        let shown: String = excerpt.text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        let _ = writeln!(out, "  {shown}\n  {}{marks}", " ".repeat(excerpt.chars.start));
    }
    for step in &refusal.remedies {
        let _ = writeln!(out, "  try: {}", remedy(step));
    }
    let _ = writeln!(out, "[{}]", refusal.code);
    out
}

/// A command line that was not understood, as text: cause, next steps, code.
pub(super) fn usage(usage: &Usage) -> String {
    let mut out = format!("{}\n", usage.cause);
    for step in &usage.remedies {
        let _ = writeln!(out, "  try: {step}");
    }
    let _ = writeln!(out, "[{}]", usage.code);
    out
}
