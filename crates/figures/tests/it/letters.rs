//! Lines of words in pixels.

use handcoat_figures::letters;

#[test]
fn a_line_has_ink_where_letters_are_and_none_around() {
    let line = letters("Ill", 100, 1000, 0.5).expect("a line");
    assert_eq!(line.words, "Ill");
    assert!(line.width < 150 && line.height == 100);
    let column = |x: usize| (0..100).map(|y| u32::from(line.coverage[y * line.width as usize + x])).sum::<u32>();
    // Three upright strokes with blanks between them.
    let strokes: Vec<bool> = (0..line.width as usize).map(|x| column(x) > 30 * 255).collect();
    let begun = strokes.windows(2).filter(|own| !own[0] && own[1]).count();
    assert_eq!(begun, 3, "{strokes:?}");
    // They stand upright: the foot of the line, below the letters, is empty.
    let foot = line.coverage[90 * line.width as usize..].iter().all(|own| *own == 0);
    assert!(foot && line.coverage.contains(&255));
}

#[test]
fn a_long_line_becomes_smaller_and_then_is_cut() {
    let text = "a long line of words that has little room";
    let whole = letters(text, 60, 10_000, 0.5).expect("a line");
    let smaller = letters(text, 60, whole.width * 3 / 4, 0.5).expect("a line");
    assert_eq!((smaller.words.as_str(), whole.height), (text, 60));
    assert!(smaller.height < 60 && smaller.width <= whole.width * 3 / 4);
    let cut = letters(text, 60, whole.width / 4, 0.5).expect("a line");
    assert!(cut.words.ends_with('…') && cut.words.len() < text.len() && cut.width <= whole.width / 4);
    assert_eq!(letters("", 60, 100, 0.5), None);
    assert_eq!(letters("word", 60, 3, 0.5), None);
    // A letter the face does not have is not left out in silence.
    assert_eq!(
        letters("a\u{4e00}b", 60, 1000, 0.5),
        letters("a?b", 60, 1000, 0.5).map(|own| handcoat_figures::Letters { words: "a\u{4e00}b".into(), ..own })
    );
}

#[test]
fn figures_stand_on_the_line_and_are_of_one_height() {
    // First and last row with ink in it.
    let rows = |text: &str| {
        let own = letters(text, 200, 2000, 1.0).expect("a line");
        let rows: Vec<bool> =
            own.coverage.chunks(own.width as usize).map(|own| own.iter().any(|it| *it > 127)).collect();
        let at = |own: Option<usize>| own.expect("ink") as i32;
        (at(rows.iter().position(|own| *own)), at(rows.iter().rposition(|own| *own)))
    };
    let (top, foot) = rows("1");
    for figure in ["0", "2", "3", "4", "5", "6", "7", "8", "9"] {
        let own = rows(figure);
        // Round ones reach a little beyond.
        assert!((own.0 - top).abs() <= 4 && (own.1 - foot).abs() <= 4, "{figure}: {own:?} beside {:?}", (top, foot));
    }
    assert!((rows("H").1 - foot).abs() <= 4 && foot - top > 80, "as tall as capitals nearly");
}
