//! The line of progress.

use std::time::Duration;

use super::super::line;

#[test]
fn a_line_says_how_far_it_is() {
    assert!(line(0, 7200, Duration::ZERO).ends_with(". 0 %, row 0 of 7200"));
    let half = line(3600, 7200, Duration::from_secs(4));
    assert!(half.contains("###############...............") && half.ends_with("50 %, row 3600 of 7200, 4 s left"));
    assert!(!line(7200, 7200, Duration::from_secs(9)).contains('.'));
}
