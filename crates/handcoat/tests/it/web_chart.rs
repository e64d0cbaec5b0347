//! The loop of the chart in pages: a chart for film, a scan of its print that is made up, a response, and a print through its curve.

use handcoat_work::sample::{sample_picture, sample_scan};
use sha2::{Digest as _, Sha256};

use crate::web::{Answered, House, tags};

/// A scan as a browser sends it.
fn sent(house: &House, name: &str, file: &[u8], more: &[(&str, &str)]) -> Answered {
    let token = house.get("/tone/read").hidden("token");
    let fields = [&[("token", token.as_str()), ("key", "test-scan-1")], more].concat();
    house.upload("/tone/read/upload", &fields, name, file)
}

/// Where the picture of what was found lies, after a look that it is one.
fn overlay(house: &House, page: &Answered) -> String {
    let all = tags(&page.text);
    let image = all.iter().find(|own| own.name == "img").expect("a picture of what was found");
    let path = image.get("src").expect("its address").to_owned();
    let png = house.get(&path);
    assert_eq!((png.header("content-type"), &png.bytes[..4]), ("image/png", &b"\x89PNG"[..]));
    path
}

/// The film of a chart as it is handed out, printed and scanned.
fn printed(house: &House, answers: &[(&str, &str)]) -> Vec<u8> {
    let film = house.post("/tone/chart", answers);
    assert_eq!((film.status.as_u16(), film.header("content-type")), (200, "image/tiff"), "{}", film.text);
    let path = house.book.with_file_name("handed-out.tif");
    std::fs::write(&path, &film.bytes).expect("written");
    sample_scan(&path).expect("a scan of its print")
}

#[test]
fn a_chart_is_made_printed_scanned_fitted_and_checked_in_pages() {
    let house = House::filled("web-chart");
    assert!(house.get("/tone").text.contains("From a chart to a negative: rag, palladium"));
    // Another seed each time it is asked for, and the one that was asked for when it was.
    let seed = |path: &str| {
        let page = house.get(path);
        let all = tags(&page.text);
        let own = all.iter().find(|own| own.get("name") == Some("seed")).expect("a seed");
        own.get("value").expect("its number").parse::<u32>().expect("a number")
    };
    assert_ne!(seed("/tone/chart"), seed("/tone/chart"));
    assert_eq!(seed("/tone/chart?seed=7"), 7);
    let refused = house.post("/tone/chart", &[("levels", "24"), ("seed", "7"), ("sheet", "4x5in")]);
    assert_eq!(refused.status, 422);
    assert!(refused.text.contains("chart_no_room"));

    let asked = [("levels", "24"), ("seed", "7"), ("ppi", "200"), ("do", "film")];
    let scan = printed(&house, &asked);
    let folder = house.book.with_file_name("studio-pictures");
    let films = || {
        let all = std::fs::read_dir(folder.join("negatives")).expect("a folder");
        all.map(|own| own.expect("a file").file_name().into_string().expect("text")).collect::<Vec<_>>()
    };
    printed(&house, &asked);
    assert_eq!(films(), ["chart-24-seed-7.tif"], "the same chart is one file");
    let page = house.get("/tone/chart?setup=1").text;
    assert!(page.contains("value=\"rag, palladium\" checked"), "the set-up of the address is chosen: {page}");
    for paper in ["sheet-a4", "sheet-letter"] {
        let sheet =
            house.post("/tone/chart", &[("levels", "24"), ("seed", "7"), ("setup", "rag, palladium"), ("do", paper)]);
        assert_eq!(
            (sheet.header("content-type"), &sheet.bytes[..4]),
            ("application/pdf", &b"%PDF"[..]),
            "{}",
            sheet.text
        );
    }
    let table = house.post("/tone/chart", &[("levels", "24"), ("seed", "7"), ("ppi", "200"), ("do", "table")]);
    assert_eq!((table.header("content-type"), table.text.lines().count()), ("text/csv; charset=utf-8", 73));

    let read = sent(&house, "scan.tif", &scan, &[]);
    assert_eq!(read.status, 200, "{}", read.text);
    for words in
        ["<b>72</b> patches", "24 levels, 3 of each; seed 7", "taken for sRGB", "Fit a response of these readings"]
    {
        assert!(read.text.contains(words), "no {words}: {}", read.text);
    }
    assert!(std::fs::read(folder.join("scan.tif")).expect("kept") == scan, "other bytes");
    let path = overlay(&house, &read);
    assert!(house.get("/tone/read").text.contains("scan.tif"), "what was sent can be chosen");
    let again = house.post("/tone/read", &[("picture", "scan.tif")]);
    assert_eq!(overlay(&house, &again), path, "the same scan gives the same picture");
    assert_eq!(house.get(&format!("/tone/read/{}", "0".repeat(64))).status, 404);
    // A step strip beside the print: its table is read with the scan, and kept under a name for the next.
    let far: String = (0..5).map(|own| format!("{},{},1\n", 0.1 + 0.3 * f64::from(own), 900 + own)).collect();
    let far = format!("density,x_mm,y_mm\n{far}");
    let strip = [("picture", "scan.tif"), ("reference", far.as_str()), ("strip_name", "grey wedge")];
    let off = house.post("/tone/read", &strip);
    assert!(off.status == 422 && off.text.contains("reference_off_scan"), "{}", off.text);
    let page = house.get("/tone/read").text;
    assert!(page.contains("value=\"grey wedge\""), "a strip that is kept can be chosen: {page}");
    let chosen = house.post("/tone/read", &[("picture", "scan.tif"), ("strip", "grey wedge")]);
    assert!(chosen.status == 422 && chosen.text.contains("reference_off_scan"), "{}", chosen.text);
    let unknown = house.post("/tone/read", &[("picture", "scan.tif"), ("strip", "../studio")]);
    assert!(unknown.status == 404 && unknown.text.contains("table_missing"), "{}", unknown.text);
    let few = house.post("/tone/read", &[("picture", "scan.tif"), ("reference", "density\n0.1\n")]);
    assert!(few.status == 400 && few.text.contains("column_missing"), "{}", few.text);
    let steep = house.post("/tone/read", &[("picture", "scan.tif"), ("gamma", "steep")]);
    assert!(steep.status == 400 && steep.text.contains("gamma_unreadable"), "{}", steep.text);
    assert_eq!(house.post("/tone/read", &[("picture", "../studio.handcoat")]).status, 404);
    let other = house.post("/tone/read", &[]);
    assert!(other.status == 400 && other.text.contains("answer_missing"), "{}", other.text);

    // The one button: to the fit, with readings, set-up and the file they are of.
    let (readings, note) = (read.hidden("readings"), read.hidden("note"));
    assert!(readings.starts_with("patch,input,") && readings.lines().count() == 73, "{readings}");
    assert_eq!(note, "Scan scan.tif");
    let of_chart = readings.clone();
    let scan = read.hidden("scan").replace("&quot;", "\"");
    let answers = [("readings", readings.as_str()), ("setup", "rag, palladium"), ("note", &note), ("scan", &scan)];
    let fitted = house.post("/tone/new", &[&answers[..], &[("do", "fit")]].concat());
    assert!(fitted.status == 200 && fitted.text.contains(&note), "{}", fitted.text);
    let kept = house.post("/tone/new", &[&answers[..], &[("do", "keep")]].concat());
    assert_eq!(kept.status, 303, "{}", kept.text);
    let number = kept.header("location").trim_start_matches("/tone/").split('?').next().expect("a number").to_owned();
    assert!(house.get(&format!("/tone/{number}")).text.contains(&note), "its page says which file it is of");
    // What is known of the scan went along, and stays away from readings that were changed.
    let page = house.get(&format!("/tone/{number}")).text;
    let sha256: String = Sha256::digest(std::fs::read(folder.join("scan.tif")).expect("the scan"))
        .iter()
        .map(|own| format!("{own:02x}"))
        .collect();
    for words in ["The scan it was read from", &sha256, "blur of its edges", "pixels to the inch"] {
        assert!(page.contains(words), "no {words}: {page}");
    }
    let way = house.get("/tone").text;
    assert!(way.contains(&format!("/tone/chart?curve={number}")), "next is a chart through its curve: {way}");

    let through = [("levels", "24"), ("seed", "8"), ("ppi", "200"), ("curve", number.as_str()), ("do", "film")];
    let read = sent(&house, "scan.tif", &printed(&house, &through), &[]);
    assert!(read.text.contains("; through a curve") && !read.text.contains("Fit a response"), "{}", read.text);
    assert!(folder.join("scan-2.tif").exists(), "nothing is written over");
    let at = format!("/tone/{number}/verify");
    assert!(read.text.contains(&format!("action=\"{at}#sheet\"")), "{}", read.text);
    let readings = read.hidden("readings");
    let checked = house.post(&at, &[("readings", &readings), ("do", "keep")]);
    assert_eq!(checked.status, 303, "{}", checked.text);
    let way = house.get("/tone").text;
    assert!(way.contains(&format!("/negative/new?curve={number}")), "next are negatives: {way}");
    let lines: Vec<&str> = of_chart.lines().collect();
    let changed = lines[..lines.len() - 1].join("\n");
    let answers = [("readings", changed.as_str()), ("setup", "rag, palladium"), ("scan", &scan), ("do", "keep")];
    let other = house.post("/tone/new", &answers);
    assert_eq!(other.status, 303, "{}", other.text);
    let its = house.get(other.header("location")).text;
    assert!(its.contains("readings left aside") && !its.contains("The scan it was read from"), "{its}");
}

#[test]
fn a_scan_that_is_refused_shows_why() {
    let house = House::filled("web-chart-refused");
    let refused = sent(&house, "heron.tif", &sample_picture(), &[("as_lit", "yes")]);
    assert!(refused.status == 422 && refused.text.contains("scan_no_marks"), "{}", refused.text);
    overlay(&house, &refused);
    let unknown = sent(&house, "heron.png", b"nothing", &[]);
    assert!(unknown.status == 400 && unknown.text.contains("picture_unknown"), "{}", unknown.text);
    assert!(!tags(&unknown.text).iter().any(|own| own.name == "img"));
}
