//! A strip is kept under a name, and found by no other.

use crate::web::strips::{keep, kept, table};

#[test]
fn a_strip_is_kept_once_and_no_name_leads_elsewhere() {
    let folder = std::env::temp_dir().join(format!("handcoat-strips-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder");
    let folder = folder.as_path();
    assert_eq!(kept(folder), Vec::<String>::new());
    assert_eq!(keep(folder, " ../grey wedge, 21 ", "density\n").expect("kept"), "___grey wedge_ 21");
    keep(folder, "../grey wedge, 21", "density\n").expect("the same again");
    let other = keep(folder, "../grey wedge, 21", "another\n").expect_err("not written over");
    assert_eq!(other.code, "file_exists");
    assert_eq!(kept(folder), ["___grey wedge_ 21"]);
    assert_eq!(table(folder, "___grey wedge_ 21").expect("its table"), b"density\n");
    std::fs::write(folder.join("secret.csv"), "x").expect("written");
    assert_eq!(table(folder, "../secret").expect_err("elsewhere").code, "table_missing");
    std::fs::remove_dir_all(folder).expect("taken away");
}
