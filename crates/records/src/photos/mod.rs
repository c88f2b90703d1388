//! Photos: taken first and filed later, the original kept without what it tells of the place, copies that stand upright.

mod jpeg;
mod photo;
mod picture;
mod png;

pub(crate) use photo::{PHOTO, PHOTO_COPY, PHOTOS, UNFILED};
pub use photo::{Photo, PhotoMoment, Scale, photo_bytes, photos_of, unfiled_photos};
pub use picture::{LARGEST_PHOTO, MOST_PIXELS, Picture};
