//! Under which names this server answers, exactly.
//!
//! A page of somebody else can make a name of its own lead here (DNS rebinding). Its requests then carry that name, and nothing
//! else gives them away. So the list holds whole `Host` values, port included, and is compared byte by byte: no prefix, no
//! letter case, no trailing dot.

use std::net::IpAddr;

/// The `Host` values that are answered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hosts {
    names: Vec<String>,
}

impl Hosts {
    /// This computer only, on a port.
    #[must_use]
    pub fn loopback(port: u16) -> Self {
        let names = ["127.0.0.1", "localhost", "[::1]"].iter().flat_map(|name| with_port(name, port)).collect();
        Self { names }
    }

    /// This computer, and its own addresses in the local network.
    #[must_use]
    pub fn with_own_addresses(port: u16, addresses: &[IpAddr]) -> Self {
        let mut hosts = Self::loopback(port);
        for address in addresses {
            let name = match address {
                IpAddr::V4(own) => own.to_string(),
                IpAddr::V6(own) => format!("[{own}]"),
            };
            hosts.names.extend(with_port(&name, port));
        }
        hosts
    }

    /// Whether a `Host` is one of ours.
    #[must_use]
    pub fn answers(&self, host: &[u8]) -> bool {
        self.names.iter().any(|name| name.as_bytes() == host)
    }

    /// Those that another computer can use.
    pub fn beyond_this_computer(&self) -> impl Iterator<Item = &str> {
        let own = ["127.0.0.1", "localhost", "[::1]"];
        self.names.iter().map(String::as_str).filter(move |name| !own.iter().any(|start| name.starts_with(start)))
    }

    /// The first one, to send a lost visitor to.
    pub(crate) fn first(&self) -> &str {
        self.names.first().map_or("", String::as_str)
    }
}

/// A browser leaves the port out where it is the usual one.
fn with_port(name: &str, port: u16) -> Vec<String> {
    let mut names = vec![format!("{name}:{port}")];
    if port == 80 {
        names.push(name.into());
    }
    names
}
