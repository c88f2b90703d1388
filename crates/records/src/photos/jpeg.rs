//! A JPEG file without what it tells beside its pixels: camera, place, time, previews, and whatever stands behind its end.
//!
//! The pixels' own data are kept byte for byte. Segments by ITU-T T.81, annex B; the orientation of Exif is read, and
//! kept in the smallest Exif segment that holds it.

use image::metadata::Orientation;

/// Start of image (T.81, table B.1, as the next ones).
const SOI: u8 = 0xD8;
/// End of image.
const EOI: u8 = 0xD9;
/// Start of scan.
const SOS: u8 = 0xDA;
/// The application's own segment 0: JFIF.
const APP0: u8 = 0xE0;
/// 1: Exif, with the place in it.
const APP1: u8 = 0xE1;
/// 2: colour profiles.
const APP2: u8 = 0xE2;
/// 14: which colours the components are.
const APP14: u8 = 0xEE;
/// The last of them.
const APP15: u8 = 0xEF;
/// Comment.
const COM: u8 = 0xFE;
/// Most scans: a camera writes about ten; thousands would only be to keep a reader busy.
const MOST_SCANS: u32 = 100;

/// A file that was looked through.
pub(super) struct Stripped {
    /// What is kept.
    pub bytes: Vec<u8>,
    /// How the camera was held.
    pub orientation: Orientation,
}

/// Takes out everything but pixels, colour and orientation; none where it is no whole JPEG file.
pub(super) fn strip(file: &[u8]) -> Option<Stripped> {
    let mut rest = file.strip_prefix(&[0xFF, SOI])?;
    let (mut kept, mut scans) = (Kept::default(), 0);
    loop {
        let marker = next_marker(&mut rest)?;
        if marker == EOI {
            return Some(kept.ended());
        }
        let length = usize::from(u16::from_be_bytes([*rest.first()?, *rest.get(1)?]));
        let segment = rest.get(..length).filter(|_| length >= 2)?;
        rest = &rest[length..];
        kept.segment(marker, segment);
        if marker == SOS {
            scans += 1;
            let pixels = scan_length(rest)?;
            kept.body.extend_from_slice(&rest[..pixels]);
            rest = &rest[pixels..];
        }
        if scans > MOST_SCANS {
            return None;
        }
    }
}

/// Goes past the next marker, with the fill bytes that may stand before it (T.81, B.1.1.2).
fn next_marker(rest: &mut &[u8]) -> Option<u8> {
    let from = rest.strip_prefix(&[0xFF])?;
    let fill = from.iter().take_while(|byte| **byte == 0xFF).count();
    let marker = *from.get(fill)?;
    *rest = &from[fill + 1..];
    Some(marker)
}

/// How many bytes of pixels follow a scan's head: to the next marker that is neither a stuffed byte nor a restart.
fn scan_length(rest: &[u8]) -> Option<usize> {
    rest.windows(2)
        .position(|pair| pair[0] == 0xFF && pair[1] != 0 && !(0xD0..=0xD7).contains(&pair[1]) && pair[1] != 0xFF)
}

/// What is kept so far.
#[derive(Default)]
struct Kept {
    /// The JFIF segment, which comes first.
    head: Vec<u8>,
    body: Vec<u8>,
    orientation: Option<Orientation>,
}

impl Kept {
    fn segment(&mut self, marker: u8, segment: &[u8]) {
        let content = &segment[2..];
        let to = match marker {
            APP0 if content.starts_with(b"JFIF\0") => &mut self.head,
            APP1 if content.starts_with(b"Exif\0\0") => {
                self.orientation = self.orientation.or_else(|| Orientation::from_exif_chunk(&content[6..]));
                return;
            }
            APP2 if content.starts_with(b"ICC_PROFILE\0") => &mut self.body,
            APP14 => &mut self.body,
            APP0..=APP15 | COM => return,
            _ => &mut self.body,
        };
        to.extend_from_slice(&[0xFF, marker]);
        to.extend_from_slice(segment);
    }

    fn ended(self) -> Stripped {
        let orientation = self.orientation.unwrap_or(Orientation::NoTransforms);
        let mut bytes = vec![0xFF, SOI];
        bytes.extend(self.head);
        if orientation != Orientation::NoTransforms {
            bytes.extend_from_slice(&orientation_alone(orientation));
        }
        bytes.extend(self.body);
        bytes.extend_from_slice(&[0xFF, EOI]);
        Stripped { bytes, orientation }
    }
}

/// An Exif segment that holds the orientation alone: a TIFF head, one entry (tag 0x0112, one short), no further list.
fn orientation_alone(orientation: Orientation) -> [u8; 36] {
    let mut segment = *b"\xFF\xE1\0\x22Exif\0\0MM\0\x2A\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\0\0\0\0\0\0\0";
    segment[29] = orientation.to_exif();
    segment
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A file of three segments, a scan with a stuffed byte and a restart, and something behind the end.
    fn file(segments: &[&[u8]]) -> Vec<u8> {
        let own =
            [b"\xFF\xDA\0\x04\x01\x02".as_slice(), b"\x10\xFF\0\x20\xFF\xD0\x30", b"\xFF\xD9", b"a film of the yard"];
        [&[0xFF, SOI]]
            .iter()
            .map(|soi| soi.as_slice())
            .chain(segments.iter().copied())
            .chain(own)
            .flatten()
            .copied()
            .collect()
    }

    fn segment(marker: u8, content: &[u8]) -> Vec<u8> {
        let length = u16::try_from(content.len() + 2).unwrap().to_be_bytes();
        [&[0xFF, marker], length.as_slice(), content].concat()
    }

    #[test]
    fn pixels_are_kept_byte_for_byte_and_nothing_stands_behind_the_end() {
        let stripped = strip(&file(&[])).unwrap();
        assert_eq!(stripped.bytes, b"\xFF\xD8\xFF\xDA\0\x04\x01\x02\x10\xFF\0\x20\xFF\xD0\x30\xFF\xD9");
    }

    #[test]
    fn what_a_camera_tells_of_itself_is_taken_out_and_how_it_was_held_stays() {
        let list = b"II\x2A\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0\x06\0\0\0\0\0\0\0";
        let exif = segment(APP1, &[b"Exif\0\0".as_slice(), list, b"47.3N 8.5E"].concat());
        let comment = segment(COM, b"8.5 E");
        let stripped = strip(&file(&[&exif, &comment, b"\xFF\xDB\0\x03\x07"])).unwrap();
        assert_eq!(stripped.orientation, Orientation::Rotate90);
        assert!(!stripped.bytes.windows(4).any(|text| text == b"47.3" || text == b"8.5 "));
        let again = strip(&stripped.bytes).unwrap();
        assert_eq!((again.orientation, again.bytes), (Orientation::Rotate90, stripped.bytes));
    }

    #[test]
    fn files_that_are_cut_short_or_none_are_refused() {
        let whole = file(&[b"\xFF\xDB\0\x03\x07"]);
        for length in 0..whole.len() - b"\xD9a film of the yard".len() {
            assert!(strip(&whole[..length]).is_none(), "{length} bytes");
        }
        assert!(strip(b"\xFF\xD8\xFF\xDB\0\x01\xFF\xD9").is_none(), "a segment shorter than its own length");
    }
}
