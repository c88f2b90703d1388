//! Under which names the pages answer. A stranger's page that makes its own name point here (DNS rebinding) gets nothing.

use std::net::{IpAddr, SocketAddr};

/// The names that a request may ask for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hosts(Vec<String>);

impl Hosts {
    /// This machine's own names, the address that is listened at, and those that the shop gives.
    pub fn new(listen: SocketAddr, named: &[String]) -> Self {
        let mut names = vec!["localhost".to_owned(), "127.0.0.1".to_owned(), "[::1]".to_owned()];
        if !listen.ip().is_unspecified() {
            names.push(shown(listen.ip()));
        }
        names.extend(named.iter().map(|name| name.trim().to_ascii_lowercase()).filter(|name| !name.is_empty()));
        Self(names)
    }

    /// Whether a request's host, with or without a port, is one of them.
    pub fn allow(&self, host: &str) -> bool {
        let name = without_port(host).to_ascii_lowercase();
        self.0.contains(&name)
    }
}

fn shown(ip: IpAddr) -> String {
    match ip {
        IpAddr::V4(ip) => ip.to_string(),
        IpAddr::V6(ip) => format!("[{ip}]"),
    }
}

fn without_port(host: &str) -> &str {
    match host.rsplit_once(':') {
        Some((name, port)) if port.bytes().all(|byte| byte.is_ascii_digit()) && !name.ends_with(':') => name,
        _ => host,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(host: &str, allowed: bool) {
        let hosts = Hosts::new("192.0.2.10:7878".parse().unwrap(), &["Bench.example".to_owned()]);
        assert_eq!(hosts.allow(host), allowed, "{host}");
    }

    #[test]
    fn own_names_are_allowed_with_any_port() {
        for host in
            ["localhost", "localhost:7878", "127.0.0.1:1", "[::1]", "[::1]:7878", "192.0.2.10", "bench.EXAMPLE:80"]
        {
            check(host, true);
        }
    }

    #[test]
    fn other_names_are_not() {
        for host in [
            "",
            "example.org",
            "localhost.example.org",
            "bench.example.evil.example",
            "192.0.2.11",
            "::1",
            "localhost:x",
        ] {
            check(host, false);
        }
    }

    #[test]
    fn an_address_for_all_networks_is_no_name() {
        let hosts = Hosts::new("0.0.0.0:7878".parse().unwrap(), &[]);
        assert!(!hosts.allow("0.0.0.0:7878") && hosts.allow("127.0.0.1"));
    }
}
