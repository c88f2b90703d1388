//! A form that a file was sent with (RFC 7578): the file's bytes and the texts beside it. Its name is not looked at.

use crate::page::trouble::Trouble;
use axum::extract::Multipart;
use axum::extract::multipart::MultipartError;

/// Texts that are taken beside a file, and bytes of each.
const MOST_TEXTS: usize = 16;
const LONGEST_TEXT: usize = 16 * 1024;

/// What was sent.
pub(crate) struct Upload {
    /// The file.
    pub file: Vec<u8>,
    texts: Vec<(String, String)>,
}

impl Upload {
    /// Reads the form; `file` names the field with the file.
    pub(crate) async fn read(mut body: Multipart, file: &str) -> Result<Self, Trouble> {
        let mut upload = Self { file: Vec::new(), texts: Vec::new() };
        while let Some(part) = body.next_field().await? {
            let name = part.name().unwrap_or_default().to_owned();
            let bytes = part.bytes().await?;
            if name == file {
                upload.file = bytes.into();
            } else if bytes.len() > LONGEST_TEXT || upload.texts.len() >= MOST_TEXTS {
                return Err(Trouble::TooLarge);
            } else {
                upload.texts.push((name, String::from_utf8_lossy(&bytes).into_owned()));
            }
        }
        Ok(upload)
    }

    /// All that was sent, as the form's key stands for it.
    pub(crate) fn content(&self) -> Vec<u8> {
        let texts =
            self.texts.iter().flat_map(|(name, text)| [name.as_bytes(), b"\0", text.as_bytes(), b"\0"].concat());
        texts.chain(self.file.iter().copied()).collect()
    }

    /// A text by its field's name; empty where it was not sent.
    pub(crate) fn text(&self, name: &str) -> &str {
        self.texts.iter().find(|(own, _)| own == name).map_or("", |(_, text)| text)
    }
}

impl From<MultipartError> for Trouble {
    fn from(error: MultipartError) -> Self {
        match error.status().as_u16() {
            413 => Self::TooLarge,
            _ => Self::Form { field: "photo", value: error.body_text(), allowed: "a form with a file, sent whole" },
        }
    }
}
