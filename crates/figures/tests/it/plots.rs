//! Plots: inside their frame, on round numbers, every point with its words, and no colour of its own on a page.

use handcoat_craft::expose::{Criteria, Dose, DryOrWet, Ladder, LadderWedge, SilverWedge};
use handcoat_craft::measure::{LogRange, PrintDensity, StepDensity, Uncertain};
use handcoat_craft::source::ContrastBy;
use handcoat_figures::{
    Axis, LadderAim, LadderMark, Layer, Look, Plot, PlotWidth, Point, Stroke, Theme, Ticks, ladder_plot, wedge_plot,
};

fn axis(label: &str, from: f64, to: f64) -> Axis {
    Axis { label: label.into(), from, to, ticks: Ticks::Round }
}

fn point(at: (f64, f64), look: Look) -> Point {
    Point { at, plus_minus: Some(0.1), look, words: format!("at <{}>", at.0) }
}

fn plot() -> Plot {
    let curve: Vec<(f64, f64)> = (0..=60).map(|own| f64::from(own) / 20.0).map(|x| (x, 1.5 - 0.5 * x)).collect();
    Plot {
        title: "Density & light".into(),
        description: "From 1.5 to 0".into(),
        x: axis("log H", 3.0, 0.0),
        y: axis("density", -0.2, 1.6),
        layers: vec![
            Layer::Band(curve.iter().map(|(x, y)| (*x, y - 0.1, y + 0.1)).collect()),
            Layer::Line { through: curve, stroke: Stroke::Curve, words: Some("the curve".into()) },
            Layer::Upright(1.0, "black".into()),
            Layer::Level(1.4, "Dmax".into()),
            Layer::Points(vec![
                point((0.5, 1.2), Look::Open),
                point((1.0, 1.0), Look::Filled),
                point((1.5, 0.8), Look::Fading(0.4)),
                point((2.0, 0.4), Look::Crossed),
            ]),
        ],
    }
}

/// Every number of an attribute.
fn numbers(svg: &str, attribute: &str) -> Vec<f64> {
    let opener = format!(" {attribute}=\"");
    svg.split(&opener).skip(1).map(|rest| rest.split('"').next().expect("closed").parse().expect("a number")).collect()
}

fn corners(svg: &str) -> Vec<(f64, f64)> {
    let lists = svg.split(" points=\"").skip(1).filter_map(|rest| rest.split('"').next());
    let pair = |own: &str| {
        let (x, y) = own.split_once(',').expect("a pair");
        (x.parse().expect("a number"), y.parse().expect("a number"))
    };
    lists.flat_map(|own| own.split(' ').map(pair).collect::<Vec<_>>()).collect()
}

fn texts(svg: &str) -> Vec<&str> {
    svg.split("</text>").filter_map(|own| own.rsplit_once('>').map(|own| own.1)).filter(|own| !own.is_empty()).collect()
}

#[test]
fn nothing_leaves_the_frame() {
    let mut wild = plot();
    wild.layers.push(Layer::Line {
        through: vec![(-90.0, -90.0), (1.0, 1.0), (f64::NAN, 2.0), (90.0, 90.0)],
        stroke: Stroke::Thin,
        words: Some("a name that is longer than the room to the right of its end".into()),
    });
    wild.layers.push(Layer::Points(vec![point((40.0, 1.0), Look::Open), point((f64::INFINITY, 1.0), Look::Open)]));
    wild.layers.push(Layer::Upright(55.0, "nowhere".into()));
    for width in [PlotWidth::Phone, PlotWidth::Page] {
        let svg = wild.draw(width, Theme::Page);
        let (wide, high) = (numbers(&svg, "width")[0], numbers(&svg, "height")[0]);
        assert!(wide <= 640.0 && (width == PlotWidth::Page || wide <= 358.0));
        for attribute in ["x", "x1", "x2", "cx"] {
            assert!(numbers(&svg, attribute).iter().all(|own| (0.0..=wide).contains(own)), "{attribute} in {svg}");
        }
        for attribute in ["y", "y1", "y2", "cy"] {
            assert!(numbers(&svg, attribute).iter().all(|own| (0.0..=high).contains(own)), "{attribute} in {svg}");
        }
        assert!(corners(&svg).iter().all(|(x, y)| (0.0..=wide).contains(x) && (0.0..=high).contains(y)), "{svg}");
        assert!(!svg.contains("nowhere") && !svg.contains("NaN") && !svg.contains("inf"), "{svg}");
        assert!(numbers(&svg, "font-size").iter().all(|own| *own >= 14.0));
    }
}

#[test]
fn a_page_lends_its_colours_and_paper_has_its_own() {
    let page = plot().draw(PlotWidth::Page, Theme::Page);
    assert!(!page.contains('#') && page.contains("var(--light)") && page.contains("var(--sheet)"), "{page}");
    let paper = plot().draw(PlotWidth::Page, Theme::Paper);
    assert!(!paper.contains("var("), "{paper}");
    // Markup in words stays words, and every point says its own.
    assert_eq!(page.matches("<title>at &lt;").count(), 4);
    assert!(page.contains("<title>Density &amp; light</title><desc>From 1.5 to 0</desc>"), "{page}");
    assert!(page.contains("opacity=\"0.40\""), "{page}");
}

#[test]
fn ticks_are_round_and_an_axis_runs_backwards() {
    let svg = plot().draw(PlotWidth::Page, Theme::Paper);
    let words = texts(&svg);
    for expected in ["0.0", "0.5", "1.0", "1.5", "2.0", "2.5", "3.0", "density", "log H", "the curve", "black", "Dmax"]
    {
        assert!(words.contains(&expected), "{expected} in {words:?}");
    }
    assert!(!words.contains(&"−0.0"), "{words:?}");
    // The point at 0.5 stands right of that at 2.0, and higher.
    let (x, y) = (numbers(&svg, "cx"), numbers(&svg, "cy"));
    assert!(x[0] > x[2] && y[0] < y[2], "{x:?} {y:?}");
    // Ten times larger or smaller, the ticks are as many.
    for scale in [1e-3, 1e3] {
        let mut other = plot();
        (other.x.from, other.x.to) = (3.0 * scale, 0.0);
        other.layers.clear();
        let svg = other.draw(PlotWidth::Page, Theme::Paper);
        let own = texts(&svg).len();
        assert!((8..=20).contains(&own), "{own}");
    }
}

#[test]
fn words_do_not_lie_on_words() {
    let mut crowded = plot();
    for at in [1.0, 1.02, 1.04, 1.06] {
        crowded.layers.push(Layer::Upright(at, format!("line at {at}")));
    }
    let svg = crowded.draw(PlotWidth::Phone, Theme::Page);
    let rows = |own: &str| -> (f64, f64) {
        let tag = svg.split("<text").find(|text| text.contains(&format!(">{own}<"))).expect("it is there");
        (numbers(tag, "x")[0], numbers(tag, "y")[0])
    };
    let places: Vec<_> = [1.0, 1.02, 1.04, 1.06].map(|at| rows(&format!("line at {at}"))).to_vec();
    for (place, one) in places.iter().enumerate() {
        for other in &places[place + 1..] {
            assert!((one.1 - other.1).abs() >= 16.0 || (one.0 - other.0).abs() > 60.0, "{places:?}");
        }
    }
}

#[test]
fn an_axis_without_a_range_is_drawn() {
    for (from, to) in [(1.0, 1.0), (f64::NAN, 2.0), (f64::NAN, f64::NAN)] {
        let empty = Plot { x: axis("x", from, to), layers: Vec::new(), ..plot() };
        let svg = empty.draw(PlotWidth::Phone, Theme::Paper);
        assert!(svg.starts_with("<svg") && svg.ends_with("</svg>") && !svg.contains("NaN"), "{svg}");
    }
    let doses = [(0.0, "1".into()), (1.0, "2".into()), (2.0, "4".into())];
    let own = Plot { x: Axis { ticks: Ticks::At(doses.to_vec()), ..axis("mg/mL", 0.0, 2.0) }, ..plot() };
    assert!(texts(&own.draw(PlotWidth::Page, Theme::Paper)).contains(&"4"));
}

#[test]
fn a_wedge_and_a_ladder_are_drawn_with_what_is_known_of_them() {
    let steps = [1.45, 1.44, 1.43, 1.37, 1.17, 0.76, 0.35, 0.15, 0.09, 0.08, 0.07];
    let fit = |steps: &[f64]| {
        let readings: Vec<(StepDensity, PrintDensity)> = steps
            .iter()
            .enumerate()
            .map(|(place, print)| {
                let step = StepDensity::density(0.3 * place as f64).expect("a step");
                (step, PrintDensity::density(*print).expect("a density"))
            })
            .collect();
        let wedge = SilverWedge::new(&readings, None).expect("a wedge");
        let noise = wedge.noise().reading();
        (wedge.fit(Criteria::default(), DryOrWet::Dry).expect("a curve"), noise)
    };
    let (whole, noise) = fit(&steps);
    let svg = wedge_plot(&whole, noise, PlotWidth::Page, Theme::Page);
    assert!(texts(&svg).contains(&"full black") && svg.contains("Dmax 1.45"), "{svg}");
    assert_eq!(svg.matches("<g opacity").count(), steps.len());
    assert!(svg.contains("<title>under step 1.20: 1.170, the curve 1.170</title>"), "{svg}");
    // What did not bracket has no end that could be named, and no greatest density.
    let (part, noise) = fit(&steps[4..]);
    let svg = wedge_plot(&part, noise, PlotWidth::Phone, Theme::Page);
    assert!(!svg.contains("full black") && !svg.contains("Dmax 1") && svg.contains("darkest 1.17"), "{svg}");

    let by = ContrastBy::Hexachloroplatinate;
    let wedge = |dose: Option<f64>, scale: f64| LadderWedge {
        dose: dose.map(|own| Dose::of(by, own).expect("a dose")),
        scale: Uncertain::new(LogRange::log_h(scale).expect("a scale"), 0.03),
        base: None,
    };
    let own = [wedge(Some(0.5), 1.8), wedge(Some(2.0), 1.45), wedge(None, 2.1)];
    let borrowed = wedge(Some(1.0), 1.6);
    let ladder = Ladder::fit(by, &own, true).expect("a ladder");
    let mark = |wedge: LadderWedge, borrowed| LadderMark { wedge, borrowed, words: "a <wedge>".into() };
    let marks: Vec<LadderMark> = own.into_iter().map(|own| mark(own, false)).chain([mark(borrowed, true)]).collect();
    let aim =
        LadderAim { range: LogRange::log_h(1.6).expect("a range"), dose: Some(Dose::of(by, 1.1).expect("a dose")) };
    for width in [PlotWidth::Phone, PlotWidth::Page] {
        let svg = ladder_plot(&ladder, &marks, Some(aim), width, Theme::Page);
        let words = texts(&svg);
        assert!(
            words.contains(&"none") && words.contains(&"the negative 1.60") && words.contains(&"1.1 mg/mL"),
            "{words:?}"
        );
        assert_eq!(svg.matches("<title>a &lt;wedge&gt;</title>").count(), 4);
        // A borrowed one is paler the more own ones there are; an own one never is.
        let seen = numbers(&svg, "opacity");
        assert!(seen[..3].iter().all(|own| *own == 1.0) && seen[3] < 0.5, "{seen:?}");
    }
}
