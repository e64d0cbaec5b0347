//! The studio with many prints is a sound one.

use handcoat_trials::many_prints;
use handcoat_work::Studio;
use handcoat_work::keep::{RecordKind, one_kept};
use handcoat_work::ledger::{Holder, balance, balance_by_holder, where_by_holder, whereabouts_of};
use handcoat_work::print::{open_coats, print, prints};

#[test]
fn many_prints_are_sound_and_their_accounts_are_read_together() {
    let folder = tempfile::tempdir().expect("a folder");
    let book = many_prints(folder.path(), 40).expect("prints");
    let studio = Studio::open(&book).expect("a book");
    let checked = studio.check().expect("checked");
    assert!(checked.damage.is_empty(), "{:?}", checked.damage);
    assert_eq!(prints(&studio, "", 99, None).expect("prints").len(), 40);
    assert_eq!(print(&studio, "31").expect("the fourth that was coated before").coats, [4]);
    assert!(open_coats(&studio).expect("coats").is_empty());
    let sheets: i64 = (1..=5)
        .map(|number| {
            one_kept(&studio, RecordKind::Paper, &number.to_string()).expect("a paper").there.expect("counted")
        })
        .sum();
    assert_eq!(sheets, 5_000_000 - 40, "each took a sheet");
    let (all, together) = (balance(&studio).expect("rows"), balance_by_holder(&studio).expect("rows"));
    // Each print holds palladium and euros; together they are two rows.
    assert_eq!(all.len() - together.len(), 2 * 40 - 2);
    let prints: Vec<_> =
        together.iter().filter(|row| matches!(row.holder, Holder::All(RecordKind::Print, 40))).collect();
    assert_eq!(prints.len(), 2);
    assert_eq!(prints[0].holder.to_string(), "40 prints");
    for row in &together {
        let sum: i64 =
            together.iter().filter(|own| own.commodity == row.commodity).map(|own| own.amount.to_units()).sum();
        assert_eq!(sum, 0, "{}", row.commodity);
    }
    for own in whereabouts_of(&studio, None).expect("whereabouts").iter() {
        let sum: i64 = where_by_holder(&own.rows).iter().map(|(_, _, amount)| amount.to_units()).sum();
        assert_eq!(sum, own.received.to_units(), "{} {}", own.name, own.commodity);
    }
    assert_eq!(Holder::All(RecordKind::Print, 100_000).to_string(), "100,000 prints");
    assert_eq!(Holder::All(RecordKind::Coat, 1).to_string(), "1 coat");
}
