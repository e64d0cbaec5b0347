//! Which page answers which address.

use std::sync::Arc;

use axum::Router;
use axum::extract::{Request, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::{MethodRouter, get as read, post as write};

use super::desk::Desk;
use super::pages::{
    bench, coat, coat_made, emergency, expose, expose_eye, expose_ladder, expose_scan, expose_strip, expose_wedge,
    item, keep, ledger, negative, negative_new, pair, plan, print_again, print_new, prints, proof, receive, session,
    session_begin, settings, shelf, today, tone, tone_chart, tone_new, tone_scan, tone_verify,
};
use super::turned::Turned;
use super::visit::{Answer, Visit, answer};
use super::{assets, floor};

/// A page.
type Page = fn(&Visit) -> Answer;

/// Every page that is read. None of them changes anything.
pub const READ: &[&str] = &[
    "/",
    "/shelf",
    "/shelf/{code}",
    "/shelf/{code}/label",
    "/receive",
    "/bench",
    "/bench/{work}",
    "/stock/plan",
    "/stock/plan/sheet",
    "/coat",
    "/coat/sheet",
    "/coat/made",
    "/coat/open",
    "/expose",
    "/expose/wedge",
    "/expose/eye",
    "/expose/strip",
    "/expose/strip/bench",
    "/expose/strip/sheet",
    "/expose/ladder",
    "/expose/tests/{number}",
    "/expose/tests/{number}/sheet",
    "/print",
    "/print/new",
    "/print/compare",
    "/print/photo/{sha256}",
    "/print/{number}",
    "/print/{number}/repeat",
    "/keep",
    "/keep/shopping",
    "/keep/{kind}",
    "/keep/{kind}/{number}",
    "/session",
    "/session/{number}",
    "/session/{number}/plan",
    "/session/{number}/sheet",
    "/tone",
    "/tone/new",
    "/tone/levels",
    "/tone/chart",
    "/tone/read",
    "/tone/read/{sha256}",
    "/tone/{number}",
    "/tone/{number}/curve",
    "/tone/{number}/link",
    "/tone/{number}/profile",
    "/tone/{number}/report",
    "/tone/{number}/verify",
    "/tone/{number}/next",
    "/tone/{number}/levels",
    "/negative",
    "/negative/new",
    "/negative/proof",
    "/negative/proof/before",
    "/negative/proof/after",
    "/negative/{number}",
    "/negative/{number}/small",
    "/negative/{number}/file",
    "/ledger",
    "/emergency",
    "/emergency/page",
    "/settings",
    "/pair",
];

/// Every address a form is sent to.
pub const WRITTEN: &[&str] = &[
    "/receive",
    "/bench",
    "/bench/{work}",
    "/shelf/{code}/{act}",
    "/coat/made",
    "/coat/spoiled",
    "/expose/wedge",
    "/expose/wedge/scan",
    "/expose/wedge/scan/upload",
    "/expose/tests",
    "/print/new",
    "/print/{number}/note",
    "/print/{number}/photo",
    "/keep/{kind}",
    "/keep/{kind}/{number}/{act}",
    "/session",
    "/session/timers",
    "/session/{number}",
    "/tone/new",
    "/tone/chart",
    "/tone/read",
    "/tone/read/upload",
    "/tone/{number}/verify",
    "/negative/new",
    "/negative/upload",
    "/negative/jobs/{number}/{act}",
    "/undo",
    "/emergency",
    "/settings",
    "/settings/forget",
    "/theme",
    "/pair",
    "/pair/code",
];

fn reads(address: &str) -> Option<Page> {
    Some(match address {
        "/" => today::today,
        "/shelf" => shelf::list,
        "/shelf/{code}" => item::show,
        "/shelf/{code}/label" => item::label_page,
        "/receive" => receive::ask,
        "/bench" => bench::list,
        "/bench/{work}" => bench::show,
        "/stock/plan" => plan::page,
        "/stock/plan/sheet" => plan::sheet,
        "/coat" => coat::page,
        "/coat/sheet" => coat::sheet,
        "/coat/made" => coat_made::ask,
        "/coat/open" => coat_made::open,
        "/expose" => expose::home,
        "/expose/wedge" => expose_wedge::page,
        "/expose/eye" => expose_eye::page,
        "/expose/strip" => expose_strip::page,
        "/expose/strip/bench" => expose_strip::bench,
        "/expose/strip/sheet" => expose::strips_to_print,
        "/expose/ladder" => expose_ladder::page,
        "/expose/tests/{number}" => expose::one,
        "/expose/tests/{number}/sheet" => expose::sheet,
        "/print" => prints::list,
        "/print/new" => print_new::ask,
        "/print/compare" => print_again::side_by_side,
        "/print/photo/{sha256}" => prints::photo,
        "/print/{number}" => prints::show,
        "/print/{number}/repeat" => print_again::again,
        "/keep" => keep::list,
        "/keep/shopping" => keep::to_buy,
        "/keep/{kind}" => keep::of_kind,
        "/keep/{kind}/{number}" => keep::show,
        "/session" => session_begin::ask,
        "/session/{number}" => session::show,
        "/session/{number}/plan" => session::overview,
        "/session/{number}/sheet" => session::sheet,
        "/tone" => tone::list,
        "/tone/new" => tone_new::ask,
        "/tone/levels" => tone::levels,
        "/tone/chart" => tone_chart::ask,
        "/tone/read" => tone_scan::ask,
        "/tone/read/{sha256}" => tone_scan::overlay,
        "/tone/{number}" => tone::show,
        "/tone/{number}/curve" => tone::curve,
        "/tone/{number}/link" => tone::link,
        "/tone/{number}/profile" => tone::profile,
        "/tone/{number}/report" => tone::to_print,
        "/tone/{number}/verify" => tone_verify::ask,
        "/tone/{number}/next" => tone::which_next,
        "/tone/{number}/levels" => tone::next_patches_table,
        "/negative" => negative::list,
        "/negative/new" => negative_new::ask,
        "/negative/proof" => proof::page,
        "/negative/proof/before" => proof::before,
        "/negative/proof/after" => proof::after,
        "/negative/{number}" => negative::show,
        "/negative/{number}/small" => negative::small,
        "/negative/{number}/file" => negative::file,
        "/ledger" => ledger::show,
        "/emergency" => emergency::show,
        "/emergency/page" => emergency::for_the_wall,
        "/settings" => settings::show,
        "/pair" => pair::ask,
        _ => return None,
    })
}

fn writes(address: &str) -> Option<Page> {
    Some(match address {
        "/receive" => receive::take,
        "/bench" => bench::start,
        "/bench/{work}" => bench::go_on,
        "/shelf/{code}/{act}" => item::act,
        "/coat/made" => coat_made::make,
        "/coat/spoiled" => coat_made::spoiled,
        "/expose/wedge" => expose_wedge::take,
        "/expose/wedge/scan" | "/expose/wedge/scan/upload" => expose_scan::take,
        "/expose/tests" => expose::keep,
        "/print/new" => print_new::take,
        "/print/{number}/note" => prints::write_down,
        "/print/{number}/photo" => prints::keep_photo,
        "/keep/{kind}" => keep::take,
        "/keep/{kind}/{number}/{act}" => keep::act,
        "/session" => session_begin::start,
        "/session/timers" => session::timer,
        "/session/{number}" => session::tapped,
        "/tone/new" => tone_new::take,
        "/tone/chart" => tone_chart::make,
        "/tone/read" | "/tone/read/upload" => tone_scan::take,
        "/tone/{number}/verify" => tone_verify::take,
        "/negative/new" => negative_new::take,
        "/negative/upload" => negative_new::came,
        "/negative/jobs/{number}/{act}" => negative::act,
        "/undo" => ledger::take_back,
        "/emergency" => emergency::keep,
        "/settings" => settings::keep,
        "/settings/forget" => settings::forget,
        "/theme" => settings::light,
        "/pair" => pair::enter,
        "/pair/code" => pair::fresh,
        _ => return None,
    })
}

/// The pages over the floor, ready to be served.
pub fn router(desk: &Arc<Desk>) -> Router {
    let mut pages: Router<Arc<Desk>> = Router::new();
    for (addresses, find, route) in [
        (READ, reads as fn(&str) -> Option<Page>, read_with as fn(Page) -> MethodRouter<Arc<Desk>>),
        (WRITTEN, writes, write_with),
    ] {
        for address in addresses {
            if let Some(page) = find(address) {
                pages = pages.route(address, route(page));
            }
        }
    }
    let pages = pages.route("/assets/{name}", read(assets::serve)).fallback(lost).method_not_allowed_fallback(not_so);
    floor::laid(pages, desk).with_state(Arc::clone(desk))
}

fn read_with(page: Page) -> MethodRouter<Arc<Desk>> {
    read(move |state: State<Arc<Desk>>, request: Request| answer(state, request, page))
}

fn write_with(page: Page) -> MethodRouter<Arc<Desk>> {
    write(move |state: State<Arc<Desk>>, request: Request| answer(state, request, page))
}

async fn lost() -> Response {
    Turned::new(StatusCode::NOT_FOUND, "page_unknown", "There is no such page")
        .because("The address leads nowhere in this program.".into())
        .next("Go to Today and on from there.".into())
        .into_response()
}

async fn not_so() -> Response {
    Turned::new(StatusCode::METHOD_NOT_ALLOWED, "method_unknown", "This page is not asked for like that")
        .because("A page that is read was sent a form, or a form's address was opened as a page.".into())
        .next("Go to Today and on from there.".into())
        .into_response()
}
