//! JSON of a chart for film and of a scan that was read. All places are in millimetres on the print from the upper left corner of the chart, so
//! that another program can find them without this one.

use std::path::Path;

use handcoat_craft::source::{CHART_INNER_MM, CHART_SQUARE_MM, DROP_LEVEL_MM, DROP_MM};
use handcoat_craft::tone::{CODE_SQUARES, ChartLayout, ChartPatch, LAYOUT_VERSION, Spot};
use handcoat_work::tone::{ChartMade, ChartScan, PatchRead, ScanFacts};
use serde_json::{Value, json};

fn patch(own: &ChartPatch) -> Value {
    json!({ "patch": own.number, "input": own.input.to_part(), "x_mm": own.at.x_mm, "y_mm": own.at.y_mm, "copy": own.copy })
}

/// The whole layout.
fn layout(own: &ChartLayout) -> Value {
    let Spot { x_mm, y_mm } = own.frame.code;
    let (radius, tip) = DROP_MM.value;
    let (level_across, level_along) = DROP_LEVEL_MM.value;
    let marks = own.frame.marks.map(|mark| {
        let middle = mark.middle();
        json!({
            "belly_x_mm": mark.belly.x_mm,
            "belly_y_mm": mark.belly.y_mm,
            "towards_x": mark.towards.0,
            "towards_y": mark.towards.1,
            "level_line": mark.hollow,
            "middle_x_mm": middle.x_mm,
            "middle_y_mm": middle.y_mm,
        })
    });
    let cells: Vec<Value> =
        own.cells.iter().map(|cell| json!({ "x_mm": cell.at.x_mm, "y_mm": cell.at.y_mm, "dark": cell.dark })).collect();
    json!({
        "layout_version": LAYOUT_VERSION,
        "levels": own.code.size.levels(),
        "copies": own.code.size.copies(),
        "seed": own.code.seed,
        "through_curve": own.code.through_curve,
        "width_mm": own.frame.width_mm,
        "height_mm": own.frame.height_mm,
        "patch_mm": ChartLayout::patch_side_mm(),
        "patch_measured_mm": CHART_INNER_MM.value,
        "cell_mm": ChartLayout::cell_side_mm(),
        "drop": { "belly_radius_mm": radius, "belly_to_tip_mm": tip, "level_across_mm": level_across, "level_along_mm": level_along },
        "code": {
            "text": own.code.to_string(),
            "x_mm": x_mm,
            "y_mm": y_mm,
            "square_mm": CHART_SQUARE_MM.value,
            "squares": CODE_SQUARES,
        },
        "marks": marks,
        "cells": cells,
        "patches": own.patches.iter().map(patch).collect::<Vec<_>>(),
    })
}

/// A chart that was made.
pub(crate) fn made(made: &ChartMade, target: &Path) -> Value {
    let mut value = layout(&made.layout);
    if let Value::Object(out) = &mut value {
        out.insert("file".into(), json!(target.display().to_string()));
        out.insert("width_px".into(), json!(made.width_px));
        out.insert("height_px".into(), json!(made.height_px));
        out.insert("left_px".into(), json!(made.at_px.0));
        out.insert("top_px".into(), json!(made.at_px.1));
        out.insert("ppi".into(), json!(made.ppi));
        out.insert("sha256".into(), json!(made.sha256));
        out.insert("curve".into(), json!(made.curve));
        out.insert("ink".into(), json!(made.ink));
        out.insert("letters".into(), json!(made.letters));
        let warnings = made.warnings.iter();
        let warnings = warnings.map(|own| json!({ "code": own.0, "message": own.1 })).collect::<Vec<_>>();
        out.insert("warnings".into(), json!(warnings));
    }
    value
}

fn reading(own: &PatchRead, colour: bool) -> Value {
    let mut value = patch(&own.patch);
    if let Value::Object(out) = &mut value {
        let tint = |own: f64| colour.then_some(own);
        out.insert("l_star".into(), json!(own.lab.l_star));
        out.insert("l_star_u".into(), json!(own.l_star_u));
        out.insert("density".into(), json!(own.density));
        out.insert("a_star".into(), json!(tint(own.lab.a_star)));
        out.insert("b_star".into(), json!(tint(own.lab.b_star)));
        out.insert("scatter_l_star".into(), json!(own.scatter));
        out.insert("left_out_part".into(), json!(own.left_out));
        out.insert("left_aside".into(), json!(own.aside()));
        out.insert("flags".into(), json!(own.flags.iter().map(|own| own.word()).collect::<Vec<_>>()));
    }
    value
}

/// A scan that was read.
pub(crate) fn read(scan: &ChartScan, facts: &ScanFacts) -> Value {
    let code = &scan.layout.code;
    let warnings: Vec<Value> =
        scan.warnings.iter().map(|(code, message)| json!({ "code": code, "message": message })).collect();
    let mut value = json!({
        "levels": code.size.levels(),
        "seed": code.seed,
        "book": code.book.letters(),
        "through_curve": code.through_curve,
        "ink": code.ink.map(|own| own.to_string()),
        "reduced_by": scan.factor,
        "cells_right": scan.cells.0,
        "cells": scan.cells.1,
        "black_l_star": scan.black_l_star,
        "paper_l_star": scan.paper_l_star,
        "left_aside": scan.aside(),
        "warnings": warnings,
        "readings": scan.patches.iter().map(|own| reading(own, scan.colour)).collect::<Vec<_>>(),
    });
    // What is kept with a response, so that this answer serves `tone fit --scan`.
    if let (Value::Object(out), Ok(Value::Object(facts))) = (&mut value, serde_json::to_value(facts)) {
        out.extend(facts);
    }
    value
}
