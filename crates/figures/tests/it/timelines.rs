//! The timeline: everything inside its frame, times on round hours, colours of the page on a page.

use handcoat_craft::measure::Span;
use handcoat_craft::session::{Means, Schedule, Sheet, Spans, TimeOfDay};
use handcoat_figures::{Theme, TimelineBar, TimelineRow, TimelineWidth, timeline};

fn rows(prints: usize, hang: u64) -> Vec<TimelineRow> {
    let spans = Spans { hang: Span::milliseconds(hang * 60_000).expect("a span"), ..Spans::usual() };
    let sheet = |place: usize| Sheet {
        name: format!("Print <{place}> & more"),
        coats: 1,
        printing_out: false,
        baths: 3,
        spans,
    };
    let sheets: Vec<Sheet> = (1..=prints).map(sheet).collect();
    let plan = Schedule::make(&sheets, &Means::default()).expect("a plan");
    let bars = |print: usize| {
        let own = plan.tasks.iter().filter(move |task| task.print == print);
        own.map(|task| TimelineBar { step: task.step, begins: task.begins, ends: task.ends }).collect()
    };
    sheets
        .iter()
        .enumerate()
        .map(|(print, sheet)| TimelineRow { name: sheet.name.clone(), bars: bars(print) })
        .collect()
}

fn at(text: &str) -> TimeOfDay {
    TimeOfDay::read(text).expect("a time")
}

/// Every number of an attribute.
fn numbers(svg: &str, attribute: &str) -> Vec<f64> {
    let opener = format!(" {attribute}=\"");
    svg.split(&opener).skip(1).map(|rest| rest.split('"').next().expect("closed").parse().expect("a number")).collect()
}

#[test]
fn nothing_leaves_the_frame() {
    for (prints, hang) in [(1, 0), (3, 30), (12, 0), (2, 60 * 40)] {
        for width in [TimelineWidth::Phone, TimelineWidth::Page] {
            let svg = timeline(&rows(prints, hang), at("9:40"), width, Theme::Page);
            let wide = numbers(&svg, "width")[0];
            let high = numbers(&svg, "height")[0];
            assert!(wide <= 640.0 && (width == TimelineWidth::Page || wide <= 390.0));
            for attribute in ["x", "x1", "x2"] {
                assert!(numbers(&svg, attribute).iter().all(|own| (0.0..=wide).contains(own)), "{attribute} in {svg}");
            }
            for attribute in ["y", "y1", "y2"] {
                assert!(numbers(&svg, attribute).iter().all(|own| (0.0..=high).contains(own)), "{attribute} in {svg}");
            }
            // Readable on a telephone.
            assert!(numbers(&svg, "font-size").iter().all(|own| *own >= 10.0));
            assert!(!svg.contains("#000") && svg.contains("var(--light)") && !svg.contains("<1>"));
        }
    }
}

#[test]
fn the_times_on_top_are_round() {
    let svg = timeline(&rows(3, 0), at("9:40"), TimelineWidth::Page, Theme::Paper);
    let times: Vec<&str> =
        svg.split("</text>").filter_map(|text| text.rsplit('>').next()).filter(|text| text.contains(':')).collect();
    assert!(times.len() >= 3, "{times:?}");
    assert!(times.iter().all(|time| ["00", "15", "30", "45"].iter().any(|own| time.ends_with(own))), "{times:?}");
    assert!(svg.contains("<title>The session from 9:40 to ") && svg.contains("coat 9:40 to 9:48"), "{svg}");
}

#[test]
fn nothing_to_draw_is_drawn() {
    let svg = timeline(&[], at("0:00"), TimelineWidth::Phone, Theme::Paper);
    assert!(svg.starts_with("<svg") && svg.ends_with("</svg>"));
    let name = "a name that is longer than anybody reads on a telephone";
    let bars = vec![];
    let long = timeline(&[TimelineRow { name: name.into(), bars }], at("0:00"), TimelineWidth::Phone, Theme::Paper);
    assert!(long.contains(">a name that is lo…</text>"), "{long}");
}
