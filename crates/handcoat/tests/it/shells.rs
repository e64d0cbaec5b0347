//! Completions and manual pages know every command.

use crate::command::{fresh_folder, handcoat};

/// Every command that help lists, with the words that lead to it.
fn commands(words: &[&str]) -> Vec<String> {
    let help = handcoat(&[words, &["--help"]].concat()).data;
    let listed = help.split("Commands:\n").nth(1).unwrap_or_default();
    let names = listed.lines().take_while(|line| line.starts_with("  ")).filter(|line| !line.starts_with("   "));
    names.filter_map(|line| line.split_whitespace().next()).filter(|name| *name != "help").map(String::from).collect()
}

#[test]
fn completions_of_every_shell_hold_every_command() {
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let script = handcoat(&["completions", shell]);
        assert_eq!(script.code, 0, "{}", script.messages);
        for name in [commands(&[]), commands(&["stock"]), commands(&["ledger"])].concat() {
            assert!(script.data.contains(&name), "{shell}: no {name}");
        }
    }
    assert!(commands(&[]).len() >= 12 && commands(&["stock"]).len() >= 15, "{:?}", commands(&[]));
}

#[test]
fn bash_reads_its_completions() {
    let script = handcoat(&["completions", "bash"]).data;
    let file = fresh_folder("completions").join("handcoat.bash");
    std::fs::write(&file, script).expect("written");
    let read = std::process::Command::new("bash").arg("-n").arg(&file).output().expect("bash");
    assert!(read.status.success() && read.stderr.is_empty(), "{}", String::from_utf8_lossy(&read.stderr));
}

#[test]
fn every_command_has_a_page() {
    let folder = fresh_folder("man").join("man1");
    let dir = folder.to_str().expect("text");
    let first = handcoat(&["man"]);
    assert!(first.code == 0 && first.data.contains(".TH handcoat 1"), "{first:?}");
    assert_eq!(handcoat(&["man", dir]).code, 0);
    let page = |name: &str| std::fs::read_to_string(folder.join(name)).unwrap_or_else(|_| panic!("no {name}"));
    assert_eq!(page("handcoat.1"), first.data);
    let mut seen = 1;
    for above in [
        &[][..],
        &["stock"],
        &["keep"],
        &["paper"],
        &["coat"],
        &["expose"],
        &["tone"],
        &["negative"],
        &["print"],
        &["session"],
        &["ledger"],
    ] {
        for name in commands(above) {
            let words = [&["handcoat"], above, &[name.as_str()]].concat().join("-");
            assert!(page(&format!("{words}.1")).contains(&format!(".TH {words} 1")), "{words}");
            seen += 1;
        }
    }
    assert_eq!(std::fs::read_dir(&folder).expect("a folder").count(), seen);
    assert_eq!(handcoat(&["man", dir]).code, 4, "a page that is there is not written over");
}
