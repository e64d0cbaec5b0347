//! A wedge in pages from a scan of its print: dropped, looked at, and read from the fields it came into.

use crate::expose::wedge_scan;
use crate::web::{House, tags};

fn sent(house: &House, file: &[u8], more: &[(&str, &str)]) -> crate::web::Answered {
    let token = house.get("/expose/wedge?how=scan").hidden("token");
    let key = format!("key-{}", more.len());
    let fields = [&[("token", token.as_str()), ("key", key.as_str()), ("how", "scan")], more].concat();
    house.upload("/expose/wedge/scan/upload", &fields, "wedge.tif", file)
}

#[test]
fn a_scan_of_a_wedge_fills_the_form() {
    let house = House::filled("web-wedge-scan");
    let page = house.get("/expose/wedge?how=scan");
    assert!(
        page.text.contains("Drop the scan here") && page.text.contains("How long was it exposed?"),
        "{}",
        page.text
    );
    let checked = tags(&page.text).iter().any(|own| own.get("name") == Some("tablet") && own.get("checked").is_some());
    assert!(checked, "the usual wedge is chosen: {}", page.text);
    let more = [("test_time", "4:00"), ("tablet", "21"), ("first_step", "0"), ("setup", "rag, palladium")];
    let read = sent(&house, &wedge_scan(), &more);
    assert_eq!(read.status, 303, "{}", read.text);
    let to = read.header("location").split('#').next().expect("an address").to_owned();
    assert!(to.starts_with("/expose/wedge?") && to.contains("d1=1.4") && to.contains("d21=0.0"), "{to}");
    assert!(to.contains("test_time=4") && to.contains("setup=rag") && !to.contains("token="), "{to}");
    let page = house.get(&to);
    assert_eq!(page.status, 200);
    assert!(page.text.contains("Base exposure") && page.text.contains("taken for sRGB"), "{}", page.text);
    let all = tags(&page.text);
    let first = all.iter().find(|own| own.get("name") == Some("d1")).expect("the field of step 1");
    assert!(first.get("value").is_some_and(|own| own.starts_with("1.4")), "{}", page.text);
    let image = all.iter().find(|own| own.name == "img").and_then(|own| own.get("src")).expect("what was found");
    assert_eq!(house.get(image).header("content-type"), "image/png");
    // It lies in the folder now, and is read again from there with another box.
    assert!(house.get("/expose/wedge?how=scan").text.contains("wedge.tif"));
    let chosen = [("how", "scan"), ("picture", "wedge.tif"), ("tablet", "21"), ("box", "6%,22%,60%x56%")];
    let other = house.post("/expose/wedge/scan", &chosen);
    assert!(other.status == 422 && other.text.contains("wedge_count"), "{}", other.text);
    assert!(tags(&other.text).iter().any(|own| own.name == "img"), "why it was refused is seen: {}", other.text);
    let none = house.post("/expose/wedge/scan", &[("how", "scan"), ("box", "here"), ("picture", "wedge.tif")]);
    assert!(none.status == 400 && none.text.contains("box_unreadable"), "{}", none.text);
    // An address that somebody wrote shows no picture of its own.
    let odd = house.get("/expose/wedge?how=type&seen=../../settings");
    assert!(!tags(&odd.text).iter().any(|own| own.name == "img"), "{}", odd.text);
}
