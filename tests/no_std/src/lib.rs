//! Proof that `craft` and all it depends on do without the standard library.
//!
//! The standard library defines what happens on a panic; so does this crate. If anything under `craft`
//! linked the standard library there would be two such definitions, and the compiler refuses that (E0152).
#![no_std]

use handcoat_craft as _;

#[panic_handler]
fn halt(_: &core::panic::PanicInfo<'_>) -> ! {
    loop {}
}
