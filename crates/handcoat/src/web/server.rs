//! Listening, serving, and ending cleanly.

use std::future::Future;
use std::sync::Arc;
use std::time::Duration;

use axum::Extension;
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use hyper_util::service::TowerToHyperService;
use tokio::net::TcpListener;
use tokio::sync::Semaphore;

use super::desk::Desk;
use super::floor::Peer;
use super::router::router;

/// How long a browser may take over the head of a request.
const HEAD: Duration = Duration::from_secs(10);

/// How long answers under way may take when the program is asked to end.
const LAST: Duration = Duration::from_secs(5);

/// Connections at once; a studio has a handful of devices with six connections each.
const MOST: usize = 256;

/// How long to wait before the next connection when the system gives none.
const BREATH: Duration = Duration::from_millis(100);

/// Serves until `end` comes, then lets what is under way finish.
pub(crate) async fn serve(listener: TcpListener, desk: Arc<Desk>, end: impl Future<Output = ()>) {
    let pages = router(&desk);
    let graceful = GracefulShutdown::new();
    let room = Arc::new(Semaphore::new(MOST));
    tokio::pin!(end);
    loop {
        let accepted = tokio::select! {
            accepted = listener.accept() => accepted,
            () = &mut end => break,
        };
        let Ok((stream, peer)) = accepted else {
            // Out of file handles, most likely: connections that end give some back.
            tokio::time::sleep(BREATH).await;
            continue;
        };
        // With no room left the connection is closed at once, and the browser says so.
        let Ok(place) = Arc::clone(&room).try_acquire_owned() else { continue };
        // Each request says whose connection it came in on.
        let service = TowerToHyperService::new(pages.clone().layer(Extension(Peer(peer))));
        let mut http = http1::Builder::new();
        http.timer(TokioTimer::new()).header_read_timeout(HEAD);
        let watched = graceful.watch(http.serve_connection(TokioIo::new(stream), service));
        tokio::spawn(async move {
            // A connection that breaks off has nobody left to be told.
            let _ = watched.await;
            drop(place);
        });
    }
    drop(listener);
    let _ = tokio::time::timeout(LAST, graceful.shutdown()).await;
}
