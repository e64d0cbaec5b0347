//! A page that shows how far a printer is off: rulers along both edges, a cross, and where the labels would lie.

use serde::Serialize;

use crate::SheetError;
use crate::label_stock::{LabelStock, Room};
use crate::length::Offset;
use crate::press::{Supply, set_one_page};

/// Where the cross stands from both edges: a whole number of centimetres that every printer reaches.
const CROSS_MM: f64 = 20.0;

#[derive(Serialize)]
struct Data<'a> {
    day: (i32, u8, u8),
    page: (f64, f64),
    stock: &'a str,
    cross: f64,
    offset: (f64, f64),
    rooms: Vec<Room>,
}

/// Sets the page for a stock, moved by `offset` as its labels would be: with the right offset the cross measures what
/// it says.
///
/// # Errors
/// [`SheetError::Stock`], [`SheetError::Offset`].
pub fn calibration_page(stock: &LabelStock, offset: Offset, day: (i32, u8, u8)) -> Result<Vec<u8>, SheetError> {
    stock.check()?;
    offset.check()?;
    let data = Data {
        day,
        page: (stock.page_width.to_mm(), stock.page_height.to_mm()),
        stock: &stock.name,
        cross: CROSS_MM,
        offset: (offset.right.to_mm(), offset.down.to_mm()),
        rooms: (1..=stock.positions()).map(|position| stock.place(position)).collect(),
    };
    let supplies = vec![Supply { path: "/data.json", bytes: serde_json::to_vec(&data)? }];
    set_one_page(include_str!("../templates/calibration.typ"), supplies, day)
}
