//! `session plan` and `session blank`: keys scripts rely on, words people read, sheets read back.

use serde_json::Value;

use crate::command::{fresh_folder, handcoat, json};
use crate::papers::{poppler, read_back};

const THREE: [&str; 14] = [
    "session",
    "plan",
    "--prints",
    "3",
    "--exposure",
    "6:00",
    "--people",
    "1",
    "--lamps",
    "1",
    "--frames",
    "1",
    "--trays",
    "4",
];

fn seconds(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

#[test]
fn a_plan_has_the_keys_scripts_rely_on() {
    let plan = json(&THREE);
    let (total, bound, alone) =
        (seconds(&plan["total_s"]), seconds(&plan["bound_s"]), seconds(&plan["one_at_a_time_s"]));
    assert!(bound <= total && total < alone, "{bound} {total} {alone}");
    assert!((seconds(&plan["ratio_to_bound"]) - total / bound).abs() < 1e-9);
    // 8 + 30 + 3 + 6 + 3 + 7 + 7 + 30 minutes, three times: four trays leave two for clearing.
    assert!((alone - 3.0 * 94.0 * 60.0).abs() < 1e-9, "{alone}");
    assert_eq!(plan["means"]["clearing_trays"], serde_json::json!([1, 1, 0]));
    assert_eq!((&plan["begins_at"], &plan["prints"][2]), (&"10:00".into(), &"Print 3".into()));
    let tasks = plan["tasks"].as_array().expect("tasks");
    assert_eq!(tasks.len(), 3 * 8);
    for key in ["print", "name", "step", "which", "begins_s", "due_s", "ends_s", "begins_at", "due_at", "uses"] {
        assert!(tasks.iter().all(|task| task.get(key).is_some()), "no `{key}`");
    }
    let steps: Vec<_> = tasks.iter().filter(|task| task["print"] == 1).map(|task| task["step"].clone()).collect();
    assert_eq!(steps, ["coat", "dry", "load", "expose", "develop", "clear", "clear", "wash"]);
    assert_eq!(plan["hands"].as_array().map(Vec::len), Some(1));
    assert!(plan["assumed"].get("expose_s").is_none() && seconds(&plan["assumed"]["dry_s"]) == 1800.0);
}

#[test]
fn a_round_of_eight_on_one_lamp_is_96_minutes_of_light() {
    // Twelve minutes for each of eight: their product.
    let plan = json(&[
        "session",
        "plan",
        "--prints",
        "8",
        "--exposure",
        "12:00",
        "--people",
        "8",
        "--frames",
        "2",
        "--trays",
        "7",
        "--drying-places",
        "8",
    ]);
    assert_eq!((&plan["bound_by"], seconds(&plan["bound_busy_s"])), (&"lamp".into(), 96.0 * 60.0));
    let light: f64 = (plan["tasks"].as_array().expect("tasks").iter())
        .filter(|task| task["step"] == "expose")
        .map(|task| seconds(&task["ends_s"]) - seconds(&task["begins_s"]))
        .sum();
    assert!((light - 96.0 * 60.0).abs() < 1e-9);
}

#[test]
fn printing_out_is_exposed_at_once_and_double_coats_come_twice() {
    let plan = json(&[
        "session",
        "plan",
        "--print",
        "heron 8:00",
        "--print",
        "weir",
        "--exposure",
        "5:30",
        "--printing-out",
        "--double",
    ]);
    for (print, exposure) in [(1, 480.0), (2, 330.0)] {
        let own: Vec<&Value> =
            plan["tasks"].as_array().expect("tasks").iter().filter(|task| task["print"] == print).collect();
        let steps: Vec<&str> = own.iter().filter_map(|task| task["step"].as_str()).collect();
        assert_eq!(
            steps,
            ["coat", "dry", "coat", "dry", "humidify", "load", "expose", "rinse", "clear", "clear", "clear", "wash"]
        );
        for pair in own[2..7].windows(2) {
            assert_eq!(pair[0]["ends_s"], pair[1]["begins_s"], "{pair:?}");
        }
        assert_eq!(seconds(&own[6]["ends_s"]) - seconds(&own[6]["begins_s"]), exposure);
    }
    assert_eq!(plan["prints"], serde_json::json!(["heron", "weir"]));
}

#[test]
fn the_words_say_what_to_do_next_and_how_good_the_plan_is() {
    let said = handcoat(&THREE).data;
    assert!(said.starts_with("3 prints and 1 person, from 10:00 to "), "{said}");
    for words in [
        "One print after the other would take 4 h 42 min.",
        "No plan can be shorter",
        "What to do next",
        "under the lamp for 6:00",
    ] {
        assert!(said.contains(words), "no `{words}` in {said}");
    }
    let late = handcoat(&["session", "plan", "--start", "23:30", "--hang", "12h"]).data;
    assert!(late.contains("from 23:30 to ") && late.contains(" +1 d"), "{late}");
    let hands = handcoat(&["session", "plan", "--prints", "2", "--people", "2"]).data;
    assert!(hands.contains("\nHand 1\n") && hands.contains("\nHand 2\n"), "{hands}");
}

#[test]
fn sheets_are_archival_and_hold_every_step() {
    let folder = fresh_folder("session-sheets");
    for (paper, size) in [("a4", "A4"), ("letter", "letter")] {
        let path = folder.join(format!("session-{paper}.pdf"));
        let blank = folder.join(format!("blank-{paper}.pdf"));
        let (file, data) = (path.to_string_lossy(), blank.to_string_lossy());
        let more = ["-o", &file, "--paper", paper, "--day", "2026-03-14", "--studio", "Lapwing Weir", "--invented"];
        let outcome = handcoat(&[&THREE[..], &more].concat());
        assert_eq!(outcome.code, 0, "{}", outcome.messages);
        let made = json(&["session", "blank", "-o", &data, "--paper", paper, "--day", "2026-03-14"]);
        assert_eq!(made["bytes"].as_u64(), std::fs::metadata(&blank).ok().map(|facts| facts.len()));
        for path in [&path, &blank] {
            let bytes = std::fs::read(path).expect("a file");
            assert!(String::from_utf8_lossy(&bytes).contains("pdfaid:part"), "no PDF/A mark");
            if poppler() {
                let info = read_back("pdfinfo", &[], path, &[]);
                assert!(info.lines().any(|line| line.starts_with("Pages:") && line.ends_with(" 1")), "{info}");
                assert!(info.contains(size), "{info}");
            }
        }
        if !poppler() {
            continue;
        }
        let words = read_back("pdftotext", &["-layout"], &path, &["-"]);
        let plan = json(&THREE);
        for step in plan["hands"][0]["steps"].as_array().expect("steps") {
            let (at, what) = (step["at"].as_str().expect("a time"), step["what"].as_str().expect("words"));
            let there = words.lines().any(|line| line.split_whitespace().next() == Some(at) && line.contains(what));
            assert!(there, "{step} in {words}");
        }
        assert!(
            words.contains("Sample data") && words.contains("palladium") && words.contains("come before this page")
        );
        let words = read_back("pdftotext", &["-layout"], &blank, &["-"]);
        for field in ["edition", "density range", "coated size", "dropper", "its hours", "faults", "where it is now"] {
            assert!(words.contains(field), "no {field} in {words}");
        }
    }
}

/// The clock since the start of the machine, against what the kernel says in another place.
#[test]
#[cfg(target_os = "linux")]
fn timers_go_by_the_clock_the_kernel_keeps() {
    let uptime = || -> f64 {
        let text = std::fs::read_to_string("/proc/uptime").expect("the kernel's own figure");
        text.split(' ').next().and_then(|own| own.parse().ok()).expect("seconds")
    };
    let before = uptime();
    let now = json(&["session", "clocks"]);
    let after = uptime();
    assert_eq!(now["by"], "start_of_machine");
    let since = seconds(&now["since_start_ms"]) / 1000.0;
    assert!((before - 0.1..=after + 0.1).contains(&since), "{before} {since} {after}");
    let wall = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).expect("after 1970");
    assert!((seconds(&now["wall_unix_ms"]) / 1000.0 - wall.as_secs_f64()).abs() < 60.0);
    assert!(handcoat(&["session", "clocks"]).data.starts_with("Timers go by the time since this machine was started"));
}
