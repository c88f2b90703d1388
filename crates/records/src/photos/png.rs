//! A PNG file without what it tells beside its pixels: texts, times, places, films, and whatever stands behind its end.
//!
//! Chunks by the PNG specification, third edition, clause 5. The pixels' own data are kept byte for byte.

use super::jpeg::Stripped;
use image::metadata::Orientation;

/// What every PNG file begins with.
const SIGNATURE: &[u8] = b"\x89PNG\r\n\x1A\n";
/// Chunks that the pixels need: size, palette, pixels, end, see-through colour, resolution, colour.
const KEPT: [&[u8; 4]; 8] = [b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"pHYs", b"sRGB", b"gAMA"];

/// Takes out everything but pixels and colour; none where it is no whole PNG file.
pub(super) fn strip(file: &[u8]) -> Option<Stripped> {
    let mut rest = file.strip_prefix(SIGNATURE)?;
    let mut bytes = SIGNATURE.to_vec();
    let mut orientation = Orientation::NoTransforms;
    loop {
        let length = usize::try_from(u32::from_be_bytes(*rest.first_chunk()?)).ok()?;
        // Length and name before, a checksum behind.
        let whole = rest.get(..length.checked_add(12)?)?;
        let name: &[u8; 4] = rest[4..].first_chunk()?;
        rest = &rest[whole.len()..];
        if KEPT.contains(&name) {
            bytes.extend_from_slice(whole);
        }
        if name == b"eXIf" {
            orientation = Orientation::from_exif_chunk(&whole[8..8 + length]).unwrap_or(orientation);
        }
        if name == b"IEND" {
            return Some(Stripped { bytes, orientation });
        }
    }
}
