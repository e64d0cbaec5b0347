//! The station *negative* at the command line: keys of its answers, its flags, and files that are left together or not at all.

use std::fs;

use handcoat_work::negative::{ANSWER_FIELDS, AnswerShape};
use handcoat_work::sample::sample_picture;

use crate::command::{fresh_folder, handcoat, json};

#[test]
fn every_answer_of_the_table_is_a_flag_with_the_same_words_to_choose_from() {
    let help = handcoat(&["negative", "make", "--help"]).data;
    for field in ANSWER_FIELDS.iter().filter(|own| own.shape != AnswerShape::Files) {
        assert!(
            help.contains(&format!("{} ", field.flag)) || help.contains(&format!("{}\n", field.flag)),
            "{}",
            field.flag
        );
        if let AnswerShape::OneOf(all) = field.shape {
            assert!(all.iter().all(|own| help.contains(own)), "{}", field.flag);
        }
    }
}

#[test]
fn a_sheet_of_two_copies_a_small_picture_and_strips_of_inks() {
    let folder = fresh_folder("negative-sheet");
    let at = |name: &str| folder.join(name).display().to_string();
    let (picture, curve) = (at("still-life.tif"), at("curve.csv"));
    fs::write(&picture, sample_picture()).expect("written");
    fs::write(&curve, "input,output\n0,0\n1,1\n").expect("written");
    let names = || fs::read_dir(&folder).expect("a folder").count();
    let (sheet, small, jpeg) = (at("sheet.tif"), at("small.png"), at("small.jpg"));
    let base = ["negative", "make", &picture, "-o", &sheet, "--curve", &curve, "--width", "3in", "--ppi", "300"];
    let own = ["--sheet", "8x10in", "--copies", "2", "--day", "2026-05-14"];
    // What the small picture cannot be called is known before anything is made.
    for (name, code) in [(&jpeg, "preview_name_unknown"), (&curve, "preview_name_unknown")] {
        let outcome = handcoat(&[&base[..], &own, &["--preview", name]].concat());
        assert!(outcome.code == 2 && outcome.messages.contains(code), "{}", outcome.messages);
        assert_eq!(names(), 2);
    }
    let made = json(&[&base[..], &own, &["--preview", &small]].concat());
    assert_eq!(names(), 4);
    assert_eq!((made["width_px"].as_u64(), made["height_px"].as_u64()), (Some(2400), Some(3000)));
    assert_eq!(made["sha256"].as_str().map(str::len), Some(64));
    assert!(made["seconds"].as_f64().is_some_and(|own| own > 0.0) && made["bits"] == 16);
    let pictures = made["pictures"].as_array().expect("pictures");
    assert_eq!(pictures.len(), 2);
    for own in pictures {
        assert_eq!(own["width_px"], 900);
        let line = own["border_line"].as_str().expect("a line");
        let mark = made["mark"].as_str().expect("a mark");
        assert!(line.starts_with(&format!("{mark} · still-life · curve.csv · 2026-05-14 · 76 × ")), "{line}");
        assert_eq!(own["border_code"], format!("HANDCOAT{mark}"));
    }
    // The same job gives the same bytes, and its small picture too.
    let first = fs::read(&small).expect("read");
    let again = json(&[&base[..], &own, &["--preview", &small, "--force"]].concat());
    assert_eq!((&again["sha256"], fs::read(&small).expect("read")), (&made["sha256"], first));
    let inks = at("inks.tif");
    let said = json(&["negative", "inks", "-o", &inks, "--ink", "#000000", "--ink", "0,0,65535", "--ppi", "150"]);
    assert_eq!((said["inks"].as_array().map(Vec::len), said["steps"].as_u64()), (Some(2), Some(21)));
    // The file and the small picture are two.
    let png = at("one.png");
    let both = ["negative", "make", &picture, "-o", &png, "--curve", &curve, "--width", "1in", "--preview", &png];
    let outcome = handcoat(&both);
    assert!(outcome.code == 4 && outcome.messages.contains("preview_is_file"), "{}", outcome.messages);
    assert_eq!(names(), 5);
}
