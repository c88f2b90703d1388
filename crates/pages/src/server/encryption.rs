//! Encryption by certificate files (TLS 1.2 and 1.3), read again without ending what is under way.

use std::path::{Path, PathBuf};
use std::sync::{Arc, RwLock};
use std::time::Duration;
use tokio::net::TcpStream;
use tokio_rustls::TlsAcceptor;
use tokio_rustls::rustls::ServerConfig;
use tokio_rustls::rustls::crypto::ring;
use tokio_rustls::rustls::pki_types::pem::PemObject;
use tokio_rustls::rustls::pki_types::{CertificateDer, PrivateKeyDer};
use tokio_rustls::server::TlsStream;

/// Where the certificate and its key are, as PEM (RFC 7468).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CertificateFiles {
    /// The certificate, followed by those that lead to one that browsers know.
    pub certificate: PathBuf,
    /// Its private key.
    pub key: PathBuf,
}

/// Why nothing can be encrypted.
#[derive(Debug, thiserror::Error)]
pub enum EncryptionError {
    /// A file cannot be read.
    #[error("{path} cannot be read: {why}")]
    Unreadable {
        /// Which.
        path: String,
        /// What the machine says.
        why: String,
    },
    /// A file holds something else.
    #[error("{path} holds no {wanted} as PEM")]
    Empty {
        /// Which.
        path: String,
        /// What was looked for.
        wanted: &'static str,
    },
    /// The two do not belong together, or the key is of a kind that is not taken.
    #[error("the certificate {certificate} cannot be used with the key {key}: {why}")]
    Unfit {
        /// The certificate's file.
        certificate: String,
        /// The key's file.
        key: String,
        /// What is wrong.
        why: String,
    },
}

/// What encrypts connections: a certificate with its key, as they were last read.
pub struct Encryption {
    files: CertificateFiles,
    now: RwLock<Arc<ServerConfig>>,
}

impl Encryption {
    /// Reads the files.
    ///
    /// # Errors
    /// One cannot be read, holds something else, or the two do not fit.
    pub fn read(files: CertificateFiles) -> Result<Self, EncryptionError> {
        let now = RwLock::new(configured(&files)?);
        Ok(Self { files, now })
    }

    /// Reads the files again, for connections that come from now on; where that fails those that were read before stay.
    ///
    /// # Errors
    /// One cannot be read, holds something else, or the two do not fit.
    pub fn read_again(&self) -> Result<(), EncryptionError> {
        let fresh = configured(&self.files)?;
        *self.now.write().unwrap_or_else(|poisoned| poisoned.into_inner()) = fresh;
        Ok(())
    }

    fn acceptor(&self) -> TlsAcceptor {
        let now = self.now.read().unwrap_or_else(|poisoned| poisoned.into_inner());
        TlsAcceptor::from(now.clone())
    }

    /// The stream once both ends agree on a key; nothing where they do not in this time.
    pub(super) async fn greeted(&self, stream: TcpStream, longest: Duration) -> Option<TlsStream<TcpStream>> {
        tokio::time::timeout(longest, self.acceptor().accept(stream)).await.ok()?.ok()
    }
}

fn configured(files: &CertificateFiles) -> Result<Arc<ServerConfig>, EncryptionError> {
    let (certificates, key) = (certificates(&files.certificate)?, key(&files.key)?);
    let unfit = |error: tokio_rustls::rustls::Error| EncryptionError::Unfit {
        certificate: files.certificate.display().to_string(),
        key: files.key.display().to_string(),
        why: error.to_string(),
    };
    let config = ServerConfig::builder_with_provider(Arc::new(ring::default_provider()));
    let config = config.with_safe_default_protocol_versions().map_err(unfit)?.with_no_client_auth();
    let mut config = config.with_single_cert(certificates, key).map_err(unfit)?;
    config.alpn_protocols = vec![b"http/1.1".to_vec()];
    Ok(Arc::new(config))
}

fn certificates(path: &Path) -> Result<Vec<CertificateDer<'static>>, EncryptionError> {
    let text = bytes(path)?;
    let found: Result<Vec<_>, _> = CertificateDer::pem_slice_iter(&text).collect();
    found.ok().filter(|found| !found.is_empty()).ok_or_else(|| empty(path, "certificate"))
}

fn key(path: &Path) -> Result<PrivateKeyDer<'static>, EncryptionError> {
    PrivateKeyDer::from_pem_slice(&bytes(path)?).map_err(|_| empty(path, "private key"))
}

fn bytes(path: &Path) -> Result<Vec<u8>, EncryptionError> {
    let unreadable = |error: std::io::Error| EncryptionError::Unreadable {
        path: path.display().to_string(),
        why: error.to_string(),
    };
    std::fs::read(path).map_err(unreadable)
}

fn empty(path: &Path, wanted: &'static str) -> EncryptionError {
    EncryptionError::Empty { path: path.display().to_string(), wanted }
}
