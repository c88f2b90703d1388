//! A photo's row: where it is filed, what it shows; and its pixels.

use super::picture::Picture;
use crate::audit::{self, Told};
use crate::error::{Error, Result};
use crate::id::Id;
use crate::job::Job;
use crate::moment::Moment;
use crate::once::sha256;
use crate::people::Person;
use crate::reach::{Reach, list};
use crate::record::Record;
use crate::row::Cell;
use crate::search::Subject;
use crate::seen::Finding;
use crate::sql;
use crate::table::{Column, Kind, Table};
use crate::write::Write;
use serde::{Deserialize, Serialize};
use serde_json::json;

/// Whether a photo shows the truck before the work or after it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PhotoMoment {
    /// As it came.
    Before,
    /// As it leaves.
    After,
}

/// A photo. It is taken first and filed later, or never.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Photo {
    /// Its id.
    pub id: Id<Photo>,
    /// Of which job; none until it is filed.
    pub job: Option<Id<Job>>,
    /// Which finding of that job it shows.
    pub finding: Option<Id<Finding>>,
    /// Which part it shows, in the fault book's words.
    pub shows: String,
    /// Before or after the work.
    pub moment: Option<PhotoMoment>,
    /// What else there is to say.
    pub note: String,
    /// What its original is: `image/jpeg` or `image/png`.
    pub media: String,
    /// Width as it stands upright, pixels.
    pub width: i64,
    /// Height as it stands upright, pixels.
    pub height: i64,
    /// How the original's pixels are turned, by Exif's numbers: 1 is upright.
    pub orientation: i64,
    /// Bytes of the original.
    pub size: i64,
    /// SHA-256 of the original.
    pub sha256: String,
    /// Who took it.
    pub taken_by: Option<Id<Person>>,
    /// When.
    pub taken: Moment,
    /// Counts the changes.
    pub version: i64,
    /// When it was last changed.
    pub changed: Moment,
}

impl Record for Photo {
    const TABLE: &'static Table = &PHOTO;

    fn found_as(&self) -> Option<Subject> {
        self.job.map(Subject::Job)
    }
}

pub(crate) const PHOTO: Table = Table {
    name: "photo",
    one: "photo",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("job", Kind::Id).optional(),
        Column::new("finding", Kind::Id).optional(),
        Column::text("shows"),
        Column::new("moment", Kind::Word(&["before", "after"])).optional(),
        Column::text("note").personal(),
        Column::new("media", Kind::Word(&["image/jpeg", "image/png"])),
        Column::new("width", Kind::Integer),
        Column::new("height", Kind::Integer),
        Column::new("orientation", Kind::Integer),
        Column::new("size", Kind::Integer),
        Column::text("sha256"),
        Column::new("taken_by", Kind::Id).optional(),
        Column::new("taken", Kind::Time),
        Column::new("version", Kind::Integer),
        Column::new("changed", Kind::Time),
    ],
};

/// A photo's sizes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Scale {
    /// As it came, without what it told beside its pixels.
    Original,
    /// For a screen or a page, upright.
    Large,
    /// For a list, upright.
    Small,
}

impl Scale {
    fn word(self) -> &'static str {
        match self {
            Self::Original => "original",
            Self::Large => "large",
            Self::Small => "small",
        }
    }
}

pub(crate) const PHOTO_COPY: Table = Table {
    name: "photo_copy",
    one: "photo's pixels",
    columns: &[
        Column::new("id", Kind::Id),
        Column::new("photo", Kind::Id),
        Column::new("scale", Kind::Word(&["original", "large", "small"])),
        Column::new("bytes", Kind::Bytes),
    ],
};

/// The pixels of one size of a photo.
struct PhotoCopy;

/// A photo's file in one of its sizes; the copies are JPEG files.
///
/// # Errors
/// There is no such photo, or its original is no longer what was taken.
pub async fn photo_bytes(at: &impl Reach, photo: &Photo, scale: Scale) -> Result<Vec<u8>> {
    let tail = "WHERE photo = $1 AND scale = $2";
    let values = vec![sql::text(photo.id), sql::text(scale.word())];
    let row = sql::select(at.connection(), &PHOTO_COPY, tail, values).await?.pop();
    let Some(Cell::Bytes(bytes)) = row.and_then(|row| row.into_iter().nth(3)) else {
        return Err(Error::missing("photo", photo.id));
    };
    if scale == Scale::Original && sha256(&bytes) != photo.sha256 {
        return Err(Error::Damaged { why: format!("the photo {} is not what was taken", photo.id) });
    }
    Ok(bytes)
}

/// A job's photos, the oldest first.
///
/// # Errors
/// The database does not answer.
pub async fn photos_of(at: &impl Reach, job: Id<Job>) -> Result<Vec<Photo>> {
    list(at, PHOTOS, vec![sql::text(job)]).await
}

/// Photos that nobody has filed yet, the oldest first.
///
/// # Errors
/// The database does not answer.
pub async fn unfiled_photos(at: &impl Reach, most: u32) -> Result<Vec<Photo>> {
    list(at, UNFILED, vec![sql::number(i64::from(most))]).await
}

/// The end of the question for the photos to be filed.
pub(crate) const UNFILED: &str = "WHERE job IS NULL ORDER BY taken, id LIMIT $1";

impl Write {
    /// Keeps a photo that was just taken, to be filed by changing its row.
    ///
    /// # Errors
    /// The database does not answer, or has no space.
    pub async fn keep_photo(&self, picture: Picture, note: &str) -> Result<Photo> {
        let now = self.now();
        let photo = Photo {
            id: self.id(),
            job: None,
            finding: None,
            shows: String::new(),
            moment: None,
            note: note.to_owned(),
            media: picture.media.to_owned(),
            width: i64::from(picture.width),
            height: i64::from(picture.height),
            orientation: i64::from(picture.orientation.to_exif()),
            size: picture.original.len() as i64,
            sha256: picture.sha256,
            taken_by: self.acting().who,
            taken: now,
            version: 1,
            changed: now,
        };
        let photo = self.add(photo).await?;
        let sizes = [(Scale::Original, picture.original), (Scale::Large, picture.large), (Scale::Small, picture.small)];
        for (scale, bytes) in sizes {
            let id = Cell::Text(self.id::<PhotoCopy>().to_string());
            let row = vec![id, Cell::Text(photo.id.to_string()), Cell::Text(scale.word().into()), Cell::Bytes(bytes)];
            sql::insert(self.connection(), &PHOTO_COPY, vec![row]).await?;
        }
        Ok(photo)
    }

    /// Takes a photo away for good: one that went wrong, or of somebody who asks for it.
    ///
    /// # Errors
    /// It is not there.
    pub async fn forget_photo(&self, photo: &Photo) -> Result<()> {
        let key = photo.id.to_string();
        let now: Photo = self.get(photo.id).await?;
        audit::say(self, Told { subject: PHOTO.name, key: &key, act: "taken away", what: json!({}) }).await?;
        for sql in ["DELETE FROM photo_copy WHERE photo = $1", "DELETE FROM photo WHERE id = $1"] {
            sql::run(self.connection(), sql, vec![sql::text(&key)]).await?;
        }
        crate::search::follow(self, &now).await
    }
}

/// The end of the question for a job's photos.
pub(crate) const PHOTOS: &str = "WHERE job = $1 ORDER BY taken, id";
