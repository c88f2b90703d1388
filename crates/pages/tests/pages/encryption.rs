//! Encrypted pages, with certificates that the machine's own tool makes for the test.

use crate::ground::{PASSWORD, Shop, encoded, wait};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::{TcpListener, TcpStream};
use tokio_rustls::TlsConnector;
use tokio_rustls::rustls::crypto::ring;
use tokio_rustls::rustls::pki_types::pem::PemObject;
use tokio_rustls::rustls::pki_types::{CertificateDer, ServerName};
use tokio_rustls::rustls::{ClientConfig, RootCertStore};
use toothsayer_pages::{CertificateFiles, Encryption, EncryptionError, Limits, Listening, serve_at};

/// A folder for a test's certificates that goes with it.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let path = std::env::temp_dir().join(format!("toothsayer-certificates-{name}-{}", std::process::id()));
        std::fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    /// A certificate of this machine's own name, signed by its own key.
    fn made(&self, name: &str) -> CertificateFiles {
        let files = CertificateFiles {
            certificate: self.0.join(format!("{name}.pem")),
            key: self.0.join(format!("{name}-key.pem")),
        };
        let arguments = "req -x509 -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -days 2 -subj /CN=localhost \
                         -addext subjectAltName=DNS:localhost -addext basicConstraints=critical,CA:FALSE";
        let mut command = Command::new("openssl");
        command.args(arguments.split_whitespace()).arg("-out").arg(&files.certificate).arg("-keyout").arg(&files.key);
        let made = command.output();
        let made = made.expect("openssl is missing: install Debian's openssl");
        assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
        files
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

fn certificate(path: &Path) -> CertificateDer<'static> {
    CertificateDer::from_pem_file(path).unwrap()
}

/// Asks over an encrypted connection that trusts this certificate alone; the answer, or why there is none.
async fn ask(at: std::net::SocketAddr, trusted: &Path, request: &str) -> Result<String, std::io::Error> {
    let mut roots = RootCertStore::empty();
    roots.add(certificate(trusted)).unwrap();
    let config = ClientConfig::builder_with_provider(Arc::new(ring::default_provider()));
    let config = config.with_safe_default_protocol_versions().unwrap();
    let config = config.with_root_certificates(roots).with_no_client_auth();
    let name = ServerName::try_from("localhost").unwrap();
    let stream = TcpStream::connect(at).await.unwrap();
    let mut stream = TlsConnector::from(Arc::new(config)).connect(name, stream).await?;
    stream.write_all(request.as_bytes()).await?;
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).await?;
    Ok(String::from_utf8(answer).unwrap())
}

fn request(head: &str, body: &str) -> String {
    let form = "Content-Type: application/x-www-form-urlencoded";
    format!(
        "{head} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n{form}\r\nContent-Length: {}\r\n\r\n{body}",
        body.len()
    )
}

/// A shop whose pages are served with this certificate.
async fn served(files: &CertificateFiles) -> (Shop, std::net::SocketAddr, Arc<Encryption>) {
    let shop = Shop::encrypted().await;
    let encryption = Arc::new(Encryption::read(files.clone()).unwrap());
    let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
    let (at, app) = (listener.local_addr().unwrap(), shop.app.clone());
    let listening = Listening { listener, encryption: Some(encryption.clone()), limits: Limits::default() };
    tokio::spawn(async move { serve_at(&app, listening, std::future::pending()).await });
    (shop, at, encryption)
}

#[test]
fn pages_are_encrypted_and_the_cookie_goes_no_other_way() {
    wait(async {
        let folder = Folder::new("pages");
        let files = folder.made("shop");
        let (shop, at, _) = served(&files).await;
        let health = ask(at, &files.certificate, &request("GET /health", "")).await.unwrap();
        assert!(health.starts_with("HTTP/1.1 200") && health.ends_with("well\n"), "{health}");
        let code = shop.app.first_code();
        let form = encoded(&[("code", code), ("name", "Mira Oakshott"), ("password", PASSWORD), ("again", PASSWORD)]);
        let made = ask(at, &files.certificate, &request("POST /first-run", &form)).await.unwrap();
        let cookie = made.lines().find(|line| line.starts_with("set-cookie: ")).unwrap_or_else(|| panic!("{made}"));
        assert!(cookie.ends_with("; Secure"), "{cookie}");
    });
}

#[test]
fn who_does_not_encrypt_or_trusts_another_gets_nothing() {
    wait(async {
        let folder = Folder::new("others");
        let (files, other) = (folder.made("shop"), folder.made("other"));
        let (_shop, at, _) = served(&files).await;
        assert!(ask(at, &other.certificate, &request("GET /health", "")).await.is_err());
        let mut plain = TcpStream::connect(at).await.unwrap();
        plain.write_all(request("GET /health", "").as_bytes()).await.unwrap();
        let mut answer = Vec::new();
        let _ = plain.read_to_end(&mut answer).await;
        assert!(!String::from_utf8_lossy(&answer).contains("well"), "{answer:?}");
    });
}

#[test]
fn a_new_certificate_is_taken_up_without_a_new_start_and_a_broken_one_is_not() {
    wait(async {
        let folder = Folder::new("renewed");
        let (files, renewed) = (folder.made("shop"), folder.made("renewed"));
        let old = folder.0.join("old.pem");
        std::fs::copy(&files.certificate, &old).unwrap();
        let (_shop, at, encryption) = served(&files).await;
        std::fs::copy(&renewed.certificate, &files.certificate).unwrap();
        assert!(matches!(encryption.read_again(), Err(EncryptionError::Unfit { .. })), "the old key does not fit");
        assert!(ask(at, &old, &request("GET /health", "")).await.is_ok(), "what was read before stays");
        std::fs::copy(&renewed.key, &files.key).unwrap();
        encryption.read_again().unwrap();
        assert!(ask(at, &renewed.certificate, &request("GET /health", "")).await.is_ok());
        assert!(ask(at, &old, &request("GET /health", "")).await.is_err());
    });
}

#[test]
fn files_that_are_not_what_they_should_be_are_told_by_name() {
    let folder = Folder::new("wrong");
    let files = folder.made("shop");
    let text = folder.0.join("notes.txt");
    std::fs::write(&text, "no certificate").unwrap();
    let check = |certificate: &Path, key: &Path, told: &str| {
        let files = CertificateFiles { certificate: certificate.to_owned(), key: key.to_owned() };
        let error = Encryption::read(files).err().unwrap().to_string();
        assert!(error.contains(told), "{error}");
    };
    check(&folder.0.join("none.pem"), &files.key, "none.pem cannot be read");
    check(&text, &files.key, "notes.txt holds no certificate as PEM");
    check(&files.certificate, &text, "notes.txt holds no private key as PEM");
    check(&files.key, &files.key, "shop-key.pem holds no certificate as PEM");
}
