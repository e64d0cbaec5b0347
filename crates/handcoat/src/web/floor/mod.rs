//! What every request passes before a page sees it, in this order: the `Host` it names, its method, where it says it comes from,
//! whether its device is let in, and for a POST its own origin, its size, the token of the form and the key of the act.
//!
//! Nothing that is turned away has touched the book.

mod headers;
mod hosts;
mod knock;
mod multipart;
mod posted;
mod upload;

use std::net::SocketAddr;
use std::sync::Arc;

use axum::Router;
use axum::middleware::{from_fn, from_fn_with_state};

pub use hosts::Hosts;
pub(crate) use knock::Device;
pub(crate) use posted::Posted;
pub(crate) use upload::MOST as MOST_UPLOAD;

use super::desk::Desk;

/// Whose connection a request came in on. Without one it is nobody's of this computer.
#[derive(Clone, Copy, Debug)]
pub struct Peer(pub SocketAddr);

impl Peer {
    /// Whether it is a program on this computer.
    pub(crate) fn is_local(self) -> bool {
        self.0.ip().to_canonical().is_loopback()
    }
}

/// Lays the floor under the pages. What is added last is passed first.
pub(crate) fn laid(pages: Router<Arc<Desk>>, desk: &Arc<Desk>) -> Router<Arc<Desk>> {
    let state = || Arc::clone(desk);
    pages
        .layer(from_fn_with_state(state(), posted::posted))
        .layer(from_fn_with_state(state(), knock::device))
        .layer(from_fn_with_state(state(), knock::comes_from))
        .layer(from_fn(knock::method))
        .layer(from_fn_with_state(state(), knock::host))
        .layer(from_fn(headers::headers))
}

#[cfg(test)]
mod tests {
    mod multipart;
}
