//! `handcoat print …`: what was printed, found again, repeated and compared.

use std::fmt::Write as _;
use std::path::PathBuf;

use clap::{Args, Subcommand};
use handcoat_craft::measure::{fixed, significant};
use handcoat_craft::print::{Change, Likelihood};
use handcoat_craft::source::Condition;
use handcoat_work::negative::link_doubts;
use handcoat_work::print::{
    Compared, FIELDS, Poured, PrintMade, PrintView, Repeat, Repeated, add_picture, compare, note, picture, print,
    prints, record, repeat,
};
use handcoat_work::{Field, Question, Refusal};

use super::book::{ActArgs, BookArgs, done_text};
use super::fields::{FieldArgs, Table};
use super::{files, table};
use crate::{clock, json};

const EXAMPLES: &str = "\
Example:
  handcoat print record \"Heron, morning\" --pour \"ferric oxalate=23\" --pour \"spring palladium=23\" --image 8x10in \\
    --margin 1cm --paper \"cotton rag 300\" --time 6:00

Every field may stay unknown and be written down later with `handcoat print note`.";

#[derive(Debug, Subcommand)]
pub(super) enum PrintCommand {
    /// Record a print that was made
    Record(Box<RecordArgs>),
    /// Write down more of a print: verdicts, densities, where it is
    Note(Box<NoteArgs>),
    /// Keep a picture of a print, byte for byte
    Photo(PhotoArgs),
    /// Prints, newest first, or those that answer every word
    List(ListArgs),
    /// One print with everything known of it
    Show(ShowArgs),
    /// Two prints side by side: what changed, the likeliest explanation first
    Compare(CompareArgs),
    /// The same print again, with today's bottles
    Repeat(RepeatArgs),
}

/// The fields of a print.
#[derive(Debug)]
pub(super) struct OfPrint;

impl Table for OfPrint {
    fn fields() -> &'static [Field] {
        FIELDS
    }
}

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct RecordArgs {
    /// What the print is called
    #[arg(value_name = "TITLE")]
    title: Option<String>,
    /// What was poured, in the order dropped: a bottle and its drops, or a volume (repeat for each)
    #[arg(long = "pour", value_name = "BOTTLE=DROPS")]
    pours: Vec<String>,
    /// Drops to the millilitre, where no dropper of the bottle is in the book
    #[arg(long, value_name = "COUNT")]
    drops_per_ml: Option<String>,
    /// A coat that was recorded before, by number (repeat for each)
    #[arg(long = "coat", value_name = "COAT")]
    coats: Vec<String>,
    /// The print it repeats
    #[arg(long, value_name = "PRINT")]
    repeats: Option<String>,
    #[command(flatten)]
    fields: FieldArgs<OfPrint>,
    #[command(flatten)]
    act: ActArgs,
}

#[derive(Debug, Args)]
pub(super) struct NoteArgs {
    /// Number of the print
    print: String,
    #[command(flatten)]
    fields: FieldArgs<OfPrint>,
    #[command(flatten)]
    act: ActArgs,
}

#[derive(Debug, Args)]
pub(super) struct PhotoArgs {
    /// Number of the print
    print: String,
    /// The picture to keep, JPEG or PNG; the file is read and left as it is
    #[arg(long, value_name = "FILE", required_unless_present = "get")]
    photo: Option<PathBuf>,
    /// Write the picture with this SHA-256 to a file instead
    #[arg(long, value_name = "SHA256", requires = "output", conflicts_with = "photo")]
    get: Option<String>,
    /// The file to write; it must not exist
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    #[command(flatten)]
    act: ActArgs,
}

#[derive(Debug, Args)]
pub(super) struct ListArgs {
    /// Words to find: `heron`, or a field and a word: `paper:cotton`
    words: Vec<String>,
    /// How many at most
    #[arg(long, value_name = "COUNT", default_value_t = 20)]
    most: u32,
    #[command(flatten)]
    whose: BookArgs,
}

#[derive(Debug, Args)]
pub(super) struct ShowArgs {
    /// Number of the print
    print: String,
    #[command(flatten)]
    whose: BookArgs,
}

#[derive(Debug, Args)]
pub(super) struct CompareArgs {
    /// Number of the first print
    first: String,
    /// Number of the second
    second: String,
    /// What the second shows: darker, lighter, flatter, harsher, veil, yellow-whites, black-specks, …
    #[arg(long, value_name = "SIGN")]
    shows: Option<String>,
    #[command(flatten)]
    whose: BookArgs,
}

#[derive(Debug, Args)]
pub(super) struct RepeatArgs {
    /// Number of the print
    print: String,
    /// Another size of the image
    #[arg(long, value_name = "SIZE")]
    image: Option<String>,
    /// Another margin
    #[arg(long, value_name = "LENGTH")]
    margin: Option<String>,
    /// The humidity of the room today
    #[arg(long, value_name = "PERCENT")]
    room_humidity: Option<String>,
    #[command(flatten)]
    whose: BookArgs,
}

pub(super) fn run(command: &PrintCommand) -> Result<String, Refusal> {
    match command {
        PrintCommand::Record(args) => {
            let moment = args.act.moment()?;
            let made = PrintMade {
                title: args.title.clone(),
                pours: args.pours.clone(),
                drops_per_ml: args.drops_per_ml.clone(),
                coats: args.coats.clone(),
                repeats: args.repeats.clone(),
                fields: args.fields.answers(),
            };
            Ok(done_text(&record(&mut args.act.whose.open()?, &moment, &made)?, &args.act.whose))
        }
        PrintCommand::Note(args) => {
            let moment = args.act.moment()?;
            let mut studio = args.act.whose.open()?;
            Ok(done_text(&note(&mut studio, &moment, &args.print, &args.fields.answers())?, &args.act.whose))
        }
        PrintCommand::Photo(args) => run_photo(args),
        PrintCommand::List(args) => run_list(args),
        PrintCommand::Show(args) => {
            let studio = args.whose.open()?;
            let shown = print(&studio, &args.print)?;
            let doubts = link_doubts(&studio, shown.negative_made.as_ref().and_then(|own| own.response), clock::now())?;
            if args.whose.json {
                let mut told = json::print::print(&shown);
                told["negative_curve_stale"] = doubts.stale.into();
                told["negative_doubts"] = json::print::doubts(&doubts.said);
                return Ok(json::lines(&told));
            }
            let mut out = show(&shown);
            for ((code, _), sentence) in doubts.said.iter().zip(doubts.sentences()) {
                let _ = writeln!(out, "  ! its negative: {sentence} [{code}]");
            }
            Ok(out)
        }
        PrintCommand::Compare(args) => {
            let found = compare(&args.whose.open()?, &args.first, &args.second, args.shows.as_ref())?;
            Ok(if args.whose.json { json::lines(&json::print::compared(&found)) } else { compared(&found) })
        }
        PrintCommand::Repeat(args) => {
            let answers = Repeat {
                print: Some(args.print.clone()),
                image: args.image.clone(),
                margin: args.margin.clone(),
                room_humidity: args.room_humidity.clone(),
            };
            let found = repeat(&args.whose.open()?, &answers, clock::now())?;
            Ok(if args.whose.json { json::lines(&json::print::repeated(&found)) } else { repeated(&found) })
        }
    }
}

fn run_photo(args: &PhotoArgs) -> Result<String, Refusal> {
    if let (Some(sha256), Some(output)) = (&args.get, &args.output) {
        let found = picture(&args.act.whose.open()?, sha256)?;
        files::write_new(Question::OutputFile, output, &found.bytes)?;
        return Ok(format!("The picture is in {}.\n", output.display()));
    }
    let path = args.photo.as_ref().ok_or_else(|| Refusal::missing(Question::Photo, "heron.jpg"))?;
    let bytes = files::read(Question::Photo, path)?;
    let moment = args.act.moment()?;
    let mut studio = args.act.whose.open()?;
    Ok(done_text(&add_picture(&mut studio, &moment, &args.print, &bytes)?, &args.act.whose))
}

fn run_list(args: &ListArgs) -> Result<String, Refusal> {
    let found = prints(&args.whose.open()?, &args.words.join(" "), args.most, None)?;
    if args.whose.json {
        return Ok(json::lines(&json::print::prints(&found)));
    }
    if found.is_empty() {
        return Ok(if args.words.is_empty() {
            "No print is recorded yet. Begin with: handcoat print record \"Heron, morning\"\n".into()
        } else {
            "No print answers all of that.\n".into()
        });
    }
    let rows: Vec<Vec<String>> = found
        .iter()
        .map(|own| {
            let day = own.at.map_or(String::new(), |at| handcoat_work::Day::of_instant(at).to_string());
            let field = |key| own.of(key).unwrap_or("").to_owned();
            vec![format!("{:>5}  {}", own.number, own.title), day, field("image"), field("time"), field("paper")]
        })
        .collect();
    Ok(table::columns(&rows))
}

/// Drops and volumes in the order they were dropped.
pub(super) fn pours(all: &[Poured]) -> String {
    let one = |own: &Poured| {
        let much = own.drops.map_or_else(
            || format!("{} mL", significant(own.volume.to_millilitres(), 3)),
            |drops| format!("{drops} drops"),
        );
        format!("{much} {}", own.name)
    };
    all.iter().map(one).collect::<Vec<_>>().join(", ")
}

fn show(own: &PrintView) -> String {
    let mut out = format!("Print {}  {}\n", own.number, own.title);
    let mut line = |label: &str, words: &str| {
        let _ = writeln!(out, "  {label}: {words}");
    };
    if let Some(at) = own.at {
        line("recorded", &at.to_string());
    }
    if let Some(first) = own.repeats {
        line("repeats print", &first.to_string());
    }
    if own.pours.is_empty() {
        line("poured", "unknown");
    } else {
        line("poured, in the order dropped", &pours(&own.pours));
    }
    if let Some(area) = own.area {
        line("coated area", &format!("{} cm²", fixed(area.to_square_centimetres(), 1)));
    }
    if let Some(uptake) = own.uptake {
        line("poured to the area", &format!("{} mL/100 cm²", significant(uptake.to_millilitres_per_100_cm2(), 2)));
    }
    for (symbol, mass) in &own.metal {
        line(&format!("{symbol} poured"), &format!("{} mg", significant(mass.to_milligrams(), 3)));
    }
    let costs: Vec<String> = own.whole_cost().iter().map(ToString::to_string).collect();
    if !costs.is_empty() {
        let more = if own.cost_incomplete { ", and more that came without a price" } else { "" };
        line("cost with its paper", &format!("{}{more}", costs.join(" + ")));
    }
    if let Some(lot) = &own.paper_lot {
        line("lot of the paper", lot);
    }
    if let Some(hours) = own.lamp_hours {
        line("hours on the lamp", &fixed(hours, 1));
    }
    if let Some(days) = own.developer_days {
        line("age of the developer", &format!("{days} days"));
    }
    if let Some(area) = own.bath_area {
        line("area through the clearing baths before", &format!("{} m²", significant(area, 2)));
    }
    for (field, words) in &own.known {
        line(field.label, words);
    }
    if let Some(link) = &own.negative_made {
        line("printed from", &link.words());
    }
    for photo in &own.photos {
        line("picture", photo);
    }
    let unknown = FIELDS.len() - own.known.len();
    if unknown > 0 {
        line("unknown", &format!("{unknown} of {} fields", FIELDS.len()));
    }
    out
}

/// How likely a change explains what is seen.
pub(crate) fn likelihood_words(own: Likelihood) -> &'static str {
    match own {
        Likelihood::Likely => "likely",
        Likelihood::Possible => "possible",
        Likelihood::Open => "not named for this",
        Likelihood::Against => "works the other way",
    }
}

fn change_line(out: &mut String, own: &Change, with_verdict: bool) {
    let verdict = if with_verdict { format!("{}: ", likelihood_words(own.likelihood)) } else { String::new() };
    let why = own.cause.filter(|_| with_verdict).map_or(String::new(), |cause| format!(" ({})", cause.why));
    let _ = writeln!(out, "  {verdict}{}: {} → {}{why}", own.of.words(), own.before, own.after);
}

fn compared(own: &Compared) -> String {
    let ((one, first), (other, second)) = (&own.first, &own.second);
    let mut out = format!("Print {one} ({first}) and print {other} ({second})\n");
    if let Some(sign) = own.sign {
        let _ = writeln!(out, "Print {other} shows: {}.", sign.words());
    }
    if own.found.changed.is_empty() {
        out.push_str("Nothing that is known of both changed by as much as counts.\n");
    }
    own.found.changed.iter().for_each(|change| change_line(&mut out, change, own.sign.is_some()));
    if !own.found.small.is_empty() {
        out.push_str("Changed by less than counts:\n");
        own.found.small.iter().for_each(|change| change_line(&mut out, change, false));
    }
    if !own.found.unknown.is_empty() {
        let _ = writeln!(out, "Known of one of them only: {}.", Condition::list(&own.found.unknown));
    }
    for words in own.negative_words() {
        let _ = writeln!(out, "  {words}");
    }
    out.push_str("Change one thing at a time; that settles it.\n");
    out
}

fn repeated(own: &Repeated) -> String {
    let (number, title) = &own.print;
    let mut out = format!("Print {number} ({title}) again\n");
    if let Some(area) = own.area {
        let _ = writeln!(out, "  coated area: {} cm²", fixed(area.to_square_centimetres(), 1));
    }
    for again in &own.solutions {
        let bottle = again.bottle.as_deref().unwrap_or("no bottle");
        let (name, drops, volume) = &again.then;
        let then = drops.map_or_else(
            || format!("{} mL", significant(volume.to_millilitres(), 3)),
            |drops| format!("{drops} drops"),
        );
        let off = fixed(again.off * 100.0, 1);
        let _ = writeln!(
            out,
            "  {:>4}  drops of {bottle}   (then {then} of {name}; whole drops are {off} % off)",
            again.drops
        );
        if let Some(strength) = again.strength.filter(|own| (own - 1.0).abs() >= 0.005) {
            let _ = writeln!(out, "        its strength is {} of then", significant(strength, 3));
        }
        again.notices.iter().for_each(|notice| {
            let _ = writeln!(out, "        {notice}");
        });
    }
    let _ = writeln!(out, "  time: {}", own.time.as_deref().unwrap_or("unknown"));
    if !own.changed.is_empty() {
        out.push_str("That time is suspect; since then changed:\n");
        own.changed.iter().for_each(|change| change_line(&mut out, change, false));
    }
    if !own.unknown.is_empty() {
        let _ = writeln!(out, "It stands on what is not known today: {}.", Condition::list(&own.unknown));
    }
    own.unequal.iter().for_each(|words| {
        let _ = writeln!(out, "{words}");
    });
    out
}
