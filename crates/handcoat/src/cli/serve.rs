//! `handcoat serve`: the pages, for this computer or for the devices of the studio.

use std::io::Write as _;
use std::net::{IpAddr, Ipv4Addr, TcpListener};
use std::path::PathBuf;
use std::sync::Arc;
use std::time::{Duration, Instant};

use clap::Args;
use handcoat_work::{Refusal, Remedy, Studio};
use serde_json::json;

use super::book::BookArgs;
use crate::web::{Desk, Hosts, Pairing, pairing_lines, serve};

/// Where it is looked for first, and how many places after it.
const USUAL: u16 = 8317;
const PLACES: u16 = 20;

const EXAMPLES: &str = "\
Examples:
  handcoat serve --book studio.handcoat
  handcoat serve --book studio.handcoat --lan

Only this computer can reach it unless --lan is given; then phones and tablets are let in with a code that is good once.";

#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct ServeArgs {
    /// Port to listen at; 0 takes any that is free [default: 8317, or the next that is free]
    #[arg(long, value_name = "PORT")]
    port: Option<u16>,
    /// Let devices of the local network in, with a code
    #[arg(long)]
    lan: bool,
    /// The folder of pictures and their negatives [default: NAME-pictures beside the book, made when first needed]
    #[arg(long, value_name = "FOLDER")]
    pictures: Option<PathBuf>,
    #[command(flatten)]
    whose: BookArgs,
}

/// Serves until it is interrupted. Its first line on stdout is the address, at once: a program that started it reads that.
pub(super) fn run(args: &ServeArgs) -> Result<String, Refusal> {
    serve_studio(args.whose.open()?, args.pictures.as_ref(), args.port, args.lan, args.whose.json)
}

/// Serves an open studio, also the demo's.
pub(super) fn serve_studio(
    studio: Studio,
    pictures: Option<&PathBuf>,
    wanted: Option<u16>,
    lan: bool,
    as_json: bool,
) -> Result<String, Refusal> {
    let listener = listen(wanted, lan)?;
    let port = listener.local_addr().map_err(|error| unheard(wanted.unwrap_or(USUAL), &error))?.port();
    let own = if lan { own_addresses() } else { Vec::new() };
    let hosts = Hosts::with_own_addresses(port, &own);
    let desk = Desk::new(studio, hosts, port)?;
    let desk = match pictures {
        Some(folder) => desk.with_pictures(folder.clone()),
        None => desk,
    };
    let now = Instant::now();
    let pairing = if lan { Some(Pairing::begin(now)?) } else { None };
    let said =
        said(&format!("http://127.0.0.1:{port}/"), &desk, pairing.as_ref().and_then(|own| own.code(now)), as_json);
    let desk = match pairing {
        Some(pairing) => desk.with_pairing(pairing),
        None => desk,
    };
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build();
    let runtime = runtime.map_err(|error| unheard(port, &error))?;
    runtime.block_on(async {
        // Before the first line: who reads it may ask for the end at once.
        let end = end().map_err(|error| unheard(port, &error))?;
        let listener = tokio::net::TcpListener::from_std(listener).map_err(|error| unheard(port, &error))?;
        say(&said)?;
        serve(listener, Arc::new(desk), end).await;
        Ok::<_, Refusal>(())
    })?;
    // A sheet that is being set is not waited for: nothing of it is in the book.
    runtime.shutdown_timeout(Duration::from_secs(1));
    Ok(String::new())
}

/// Where it listens, and with which code others are let in; one line of JSON where that is wanted.
fn said(url: &str, desk: &Desk, code: Option<&str>, as_json: bool) -> String {
    if as_json {
        return format!("{}\n", json!({ "url": url, "addresses": desk.addresses(), "pairing_code": code }));
    }
    let lan = code.map_or(String::new(), |code| pairing_lines(desk, code));
    format!("{url}\n{lan}Ctrl-C ends it.\n")
}

/// The socket: loopback, or all interfaces when the network is let in.
fn listen(wanted: Option<u16>, lan: bool) -> Result<TcpListener, Refusal> {
    let address = if lan { Ipv4Addr::UNSPECIFIED } else { Ipv4Addr::LOCALHOST };
    let bind = |port: u16| {
        let listener = TcpListener::bind((address, port))?;
        listener.set_nonblocking(true)?;
        Ok::<_, std::io::Error>(listener)
    };
    if let Some(port) = wanted {
        return bind(port).map_err(|error| unheard(port, &error));
    }
    let mut last = None;
    for port in USUAL..USUAL + PLACES {
        match bind(port) {
            Ok(listener) => return Ok(listener),
            Err(error) => last = Some(unheard(port, &error)),
        }
    }
    Err(last.unwrap_or_else(|| unheard(USUAL, &std::io::ErrorKind::AddrInUse.into())))
}

fn unheard(port: u16, error: &std::io::Error) -> Refusal {
    let cause = format!("port {port} could not be listened at: {error}; expected one that is free");
    Refusal::output("port_unavailable", cause, vec![Remedy::AnotherPort])
}

/// The addresses other devices of the network can use.
fn own_addresses() -> Vec<IpAddr> {
    let all = if_addrs::get_if_addrs().unwrap_or_default();
    let own = all.iter().filter(|own| !own.is_loopback() && !own.is_link_local()).map(if_addrs::Interface::ip);
    own.filter(IpAddr::is_ipv4).collect()
}

fn say(words: &str) -> Result<(), Refusal> {
    let mut out = std::io::stdout().lock();
    out.write_all(words.as_bytes()).and_then(|()| out.flush()).map_err(|error| {
        let cause = format!("what there was to say could not be written to stdout: {error}");
        Refusal::output("output_unwritable", cause, vec![super::files::next_step(&error)])
    })
}

/// Comes when the program is asked to end.
#[cfg(unix)]
fn end() -> std::io::Result<impl Future<Output = ()>> {
    use tokio::signal::unix::{SignalKind, signal};

    let (mut interrupt, mut terminate) = (signal(SignalKind::interrupt())?, signal(SignalKind::terminate())?);
    Ok(async move {
        tokio::select! {
            _ = interrupt.recv() => {}
            _ = terminate.recv() => {}
        }
    })
}

/// Comes when the program is asked to end.
#[cfg(not(unix))]
fn end() -> std::io::Result<impl Future<Output = ()>> {
    Ok(async {
        // Where no signal can be listened for, the program is ended from outside.
        if tokio::signal::ctrl_c().await.is_err() {
            std::future::pending::<()>().await;
        }
    })
}
