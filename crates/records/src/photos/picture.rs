//! A picture that somebody sent: looked through, refused or made ready to be kept.

use super::jpeg::{self, Stripped};
use super::png;
use crate::error::{Error, Result};
use crate::once::sha256;
use image::codecs::jpeg::JpegEncoder;
use image::metadata::Orientation;
use image::{DynamicImage, ImageFormat, ImageReader, Limits};
use std::io::Cursor;

/// Largest file that is taken, bytes: cameras of telephones write 2 to 12 million.
pub const LARGEST_PHOTO: usize = 25 << 20;
/// Longest side, pixels.
const LONGEST_SIDE: u32 = 20_000;
/// Most pixels: what a file unfolds to is bounded before it is unfolded.
pub const MOST_PIXELS: u64 = 64_000_000;
/// Most memory for unfolding, bytes: eight a pixel, for pictures of sixteen bits a colour with transparency.
const MOST_MEMORY: u64 = 8 * MOST_PIXELS;
/// Longest side of the large copy, pixels: fills a desk's screen and prints at 200 to the inch over a page's width.
const LARGE: u32 = 1_600;
/// Longest side of the small copy, pixels: a list's picture on a telephone.
const SMALL: u32 = 320;
/// Quality of the copies, 1 to 100: cracks and shavings stay visible.
const QUALITY: u8 = 85;

/// A picture that is ready to be kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    pub(super) media: &'static str,
    /// Upright.
    pub(super) width: u32,
    pub(super) height: u32,
    pub(super) orientation: Orientation,
    /// As it came, without what it tells beside its pixels.
    pub(super) original: Vec<u8>,
    pub(super) large: Vec<u8>,
    pub(super) small: Vec<u8>,
    pub(super) sha256: String,
}

impl Picture {
    /// Looks a file through and makes its copies. It works for some tenths of a second: not on a thread that serves.
    ///
    /// # Errors
    /// It is too large, no JPEG or PNG, cut short, damaged, or would unfold to more than [`MOST_PIXELS`].
    pub fn read(file: &[u8]) -> Result<Self> {
        if file.len() > LARGEST_PHOTO {
            return Err(wrong(format!("it has {} bytes, at most {LARGEST_PHOTO} are taken", file.len())));
        }
        let (format, media, stripped) = stripped(file)?;
        let upright = unfold(format, &stripped)?;
        Ok(Self {
            media,
            width: upright.width(),
            height: upright.height(),
            orientation: stripped.orientation,
            large: copy(&upright, LARGE)?,
            small: copy(&upright, SMALL)?,
            sha256: sha256(&stripped.bytes),
            original: stripped.bytes,
        })
    }

    /// Its width and height as it stands upright, pixels.
    pub fn size(&self) -> [u32; 2] {
        [self.width, self.height]
    }
}

/// By what the file begins with; its name may say anything.
fn stripped(file: &[u8]) -> Result<(ImageFormat, &'static str, Stripped)> {
    let (format, media, found) = match file {
        [0xFF, 0xD8, 0xFF, ..] => (ImageFormat::Jpeg, "image/jpeg", jpeg::strip(file)),
        [0x89, b'P', b'N', b'G', ..] => (ImageFormat::Png, "image/png", png::strip(file)),
        _ => return Err(wrong("it is no JPEG and no PNG: set the camera to one of them".into())),
    };
    let stripped = found.ok_or_else(|| wrong("it is cut short or damaged".into()))?;
    Ok((format, media, stripped))
}

fn wrong(why: String) -> Error {
    Error::Content { what: "the photo".into(), why }
}

fn unfold(format: ImageFormat, stripped: &Stripped) -> Result<DynamicImage> {
    let reader = || {
        let mut reader = ImageReader::with_format(Cursor::new(&stripped.bytes), format);
        reader.limits(limits());
        reader
    };
    let damaged = |error: image::ImageError| wrong(format!("it cannot be read: {error}"));
    let (width, height) = reader().into_dimensions().map_err(damaged)?;
    let pixels = u64::from(width) * u64::from(height);
    if pixels == 0 || pixels > MOST_PIXELS || width.max(height) > LONGEST_SIDE {
        return Err(wrong(format!(
            "it has {width} x {height} pixels, at most {MOST_PIXELS} are taken, none longer than {LONGEST_SIDE}"
        )));
    }
    let mut picture = reader().decode().map_err(damaged)?;
    picture.apply_orientation(stripped.orientation);
    Ok(picture)
}

fn limits() -> Limits {
    let mut limits = Limits::default();
    limits.max_image_width = Some(LONGEST_SIDE);
    limits.max_image_height = Some(LONGEST_SIDE);
    limits.max_alloc = Some(MOST_MEMORY);
    limits
}

/// A copy whose longer side is at most so long.
fn copy(picture: &DynamicImage, side: u32) -> Result<Vec<u8>> {
    let mut bytes = Vec::new();
    let encoder = JpegEncoder::new_with_quality(&mut bytes, QUALITY);
    let small = picture.width().max(picture.height()) <= side;
    let scaled = if small { picture.to_rgb8() } else { picture.thumbnail(side, side).to_rgb8() };
    scaled.write_with_encoder(encoder).map_err(|error| wrong(format!("its copy cannot be made: {error}")))?;
    Ok(bytes)
}
