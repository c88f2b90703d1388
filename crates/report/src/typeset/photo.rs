//! Photos: as large as the column allows, two thirds of a page at most, with their words under them.

use super::block::Words;
use super::measures::SMALL;
use super::setter::Setter;
use super::strip::{Mark, Placed, Strip};
use super::tags::Role as Tagged;
use crate::Error;
use crate::papers::Photo;
use krilla::image::Image;

/// Highest share of the column.
const HIGHEST: f32 = 0.45;
/// First bytes of a JPEG (ISO/IEC 10918-1) and of a PNG (ISO/IEC 15948).
const JPEG: &[u8] = &[0xff, 0xd8, 0xff];
const PNG: &[u8] = &[0x89, b'P', b'N', b'G'];

/// Sets a photo.
pub(crate) fn photo(setter: &mut Setter<'_, '_>, photo: &Photo) -> Result<(), Error> {
    let image = image(&photo.bytes).ok_or_else(|| Error::Photo { told: photo.told.clone() })?;
    let (wide, high) = image.size();
    let column = setter.column();
    let [wide, high] = [wide, high].map(|dots| dots.max(1) as f32);
    let scale = (column.width_pt / wide).min(HIGHEST * setter.size.column_pt() / high);
    let [width_pt, height_pt] = [wide * scale, high * scale];
    let node = setter.tags.add(None, Tagged::Figure(photo.told.clone()));
    let mark = Mark::Photo { image, width_pt, height_pt };
    let placed = vec![Placed { at_pt: [0.0, 0.0], mark, node: Some(node) }];
    setter.strips.push(Strip { height_pt, placed, keep: true, ..Strip::default() });
    let told = setter.tags.add(None, Tagged::Paragraph);
    setter.text(&Words::quiet(photo.told.as_str()), SMALL, column, Some(told));
    setter.space(8.0);
    Ok(())
}

fn image(bytes: &[u8]) -> Option<Image> {
    match bytes {
        jpeg if jpeg.starts_with(JPEG) => Image::from_jpeg(jpeg.to_vec().into(), true).ok(),
        png if png.starts_with(PNG) => Image::from_png(png.to_vec().into(), true).ok(),
        _ => None,
    }
}
