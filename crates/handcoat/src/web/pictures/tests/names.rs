//! Names that come from outside.

use crate::web::pictures::clean;

#[test]
fn a_name_leads_nowhere_and_stays_a_picture() {
    for (given, kept) in [
        ("heron.tif", Some("heron.tif")),
        ("Heron, morning.TIFF", Some("Heron_ morning.tiff")),
        ("../../etc/heron.png", Some("heron.png")),
        ("C:\\pictures\\heron.jpg", Some("heron.jpg")),
        (".hidden.tif", Some("hidden.tif")),
        ("...tif", Some("picture.tif")),
        ("Straße 7.jpeg", Some("Straße 7.jpeg")),
        ("a\"b<c>.tif", Some("a_b_c_.tif")),
        ("heron.exe", None),
        ("heron", None),
        ("", None),
        ("heron.tif/", None),
    ] {
        assert_eq!(clean(given).as_deref(), kept, "{given}");
    }
    let long = clean(&format!("{}.tif", "é".repeat(300))).expect("a name");
    assert!(long.chars().count() <= 84 && long.ends_with(".tif"));
}
