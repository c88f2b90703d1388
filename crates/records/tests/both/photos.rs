//! Photos: kept without the place, upright in every size, filed later; what is no photo is refused.

use crate::ground::{on_both, on_postgres, on_sqlite, wait};
use crate::writes::{now, taken_in};
use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, GenericImageView, ImageFormat, Rgb, RgbImage};
use sea_orm::ConnectionTrait;
use std::io::Cursor;
use toothsayer_records::{
    Answer, Error, Finding, Photo, PhotoMoment, Picture, Reach, Scale, Store, Subject, audit_of, check_archive, find,
    photo_bytes, photos_of, restore, unfiled_photos, write_archive,
};

/// Red above, blue below: which way it stands can be seen.
fn drawn([width, height]: [u32; 2]) -> DynamicImage {
    let colour = |_, y| if y < height / 2 { Rgb([200, 0, 0]) } else { Rgb([0, 0, 200]) };
    DynamicImage::ImageRgb8(RgbImage::from_fn(width, height, colour))
}

fn jpeg(size: [u32; 2]) -> Vec<u8> {
    let mut bytes = Vec::new();
    drawn(size).write_with_encoder(JpegEncoder::new(&mut bytes)).unwrap();
    bytes
}

pub fn png(size: [u32; 2]) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    drawn(size).write_to(&mut bytes, ImageFormat::Png).unwrap();
    bytes.into_inner()
}

/// The content of a file's Exif: the orientation and the place (tags of CIPA DC-008, 4.6.5 and 4.6.6), big-endian.
fn exif(orientation: u8) -> Vec<u8> {
    let head = [b"MM\0\x2A\0\0\0\x08\0\x02\x01\x12\0\x03\0\0\0\x01\0".as_slice(), &[orientation], b"\0\0"].concat();
    let place = b"\x88\x25\0\x04\0\0\0\x01\0\0\0\x26\0\0\0\0\0\x01\0\x01\0\x02\0\0\0\x02N\0\0\0\0\0\0\0PLACE 47.3";
    [head, place.to_vec()].concat()
}

/// A camera's JPEG file: with Exif in front and a film behind.
fn taken(size: [u32; 2], orientation: u8) -> Vec<u8> {
    let exif = [b"Exif\0\0".as_slice(), &exif(orientation)].concat();
    let length = u16::try_from(exif.len() + 2).unwrap().to_be_bytes();
    let file = jpeg(size);
    [&file[..2], b"\xFF\xE1", &length, &exif, &file[2..], b"PLACE of the film"].concat()
}

fn chunk(name: &[u8], content: &[u8], crc: u32) -> Vec<u8> {
    let length = u32::try_from(content.len()).unwrap().to_be_bytes();
    [&length, name, content, &crc.to_be_bytes()].concat()
}

fn tells_the_place(bytes: &[u8]) -> bool {
    bytes.windows(5).any(|text| text == b"PLACE")
}

#[test]
fn every_way_of_holding_the_camera_stands_upright_and_tells_no_place() {
    // By the numbers of CIPA DC-008 (Exif), 4.6.5 A: 1 is upright, 3 upside down, 6 and 8 lie on a side, the even ones
    // below 5 and the odd ones above 4 are mirrored.
    for (orientation, size, red_at) in [
        (1, [40, 30], [20, 2]),
        (2, [40, 30], [20, 2]),
        (3, [40, 30], [20, 27]),
        (4, [40, 30], [20, 27]),
        (5, [30, 40], [2, 20]),
        (6, [30, 40], [27, 20]),
        (7, [30, 40], [27, 20]),
        (8, [30, 40], [2, 20]),
    ] {
        let file = taken([40, 30], orientation);
        assert!(tells_the_place(&file), "the trial file does not tell the place");
        on_one(|store| async move {
            let picture = Picture::read(&file).unwrap();
            assert_eq!(picture.size(), size, "orientation {orientation}");
            let write = store.begin(now(0)).await.unwrap();
            let photo = write.keep_photo(picture, "").await.unwrap();
            let original = photo_bytes(&write, &photo, Scale::Original).await.unwrap();
            assert!(!tells_the_place(&original), "orientation {orientation}");
            assert!(file.windows(200).any(|pixels| pixels == &original[original.len() - 200..]), "pixels are kept");
            assert_eq!(Picture::read(&original).unwrap().size(), size, "the original still says how it stands");
            let small = photo_bytes(&write, &photo, Scale::Small).await.unwrap();
            let small = image::load_from_memory(&small).unwrap();
            let [red, _, blue, _] = small.get_pixel(red_at[0], red_at[1]).0;
            assert!(red > 150 && blue < 60, "orientation {orientation}: {red} {blue}");
        });
    }
}

/// What does not differ between the databases is looked at on one.
fn on_one<F: Future<Output = ()>>(test: impl FnOnce(Store) -> F) {
    let fresh = on_sqlite();
    wait(async {
        let store = Store::open(&fresh.place).await.unwrap();
        test(store.clone()).await;
        store.close().await.unwrap();
    });
}

#[test]
fn a_png_keeps_its_pixels_and_loses_its_texts() {
    let file = png([40, 30]);
    // The first chunk (8 + 25 bytes) stays first; a wrong checksum does not matter in what is taken out.
    let texts = [chunk(b"tEXt", b"Comment\0PLACE 47.3", 0), chunk(b"eXIf", &exif(6), 0)].concat();
    let told = [&file[..33], &texts, &file[33..], b"PLACE"].concat();
    let picture = Picture::read(&told).unwrap();
    assert_eq!(picture.size(), [30, 40]);
    on_one(|store| {
        let picture = picture.clone();
        let file = file.clone();
        async move {
            let write = store.begin(now(0)).await.unwrap();
            let photo = write.keep_photo(picture, "").await.unwrap();
            assert_eq!(photo_bytes(&write, &photo, Scale::Original).await.unwrap(), file);
            assert_eq!((photo.orientation, photo.media.as_str()), (6, "image/png"));
        }
    });
}

#[test]
fn copies_are_scaled_down_and_never_up() {
    on_one(|store| async move {
        let write = store.begin(now(0)).await.unwrap();
        for (size, expected) in [([2_000, 1_000], [[1_600, 800], [320, 160]]), ([200, 100], [[200, 100]; 2])] {
            let photo = write.keep_photo(Picture::read(&jpeg(size)).unwrap(), "").await.unwrap();
            for (scale, [width, height]) in [Scale::Large, Scale::Small].into_iter().zip(expected) {
                let bytes = photo_bytes(&write, &photo, scale).await.unwrap();
                assert_eq!(
                    image::load_from_memory(&bytes).unwrap().dimensions(),
                    (width, height),
                    "{size:?} {scale:?}"
                );
            }
        }
    });
}

#[track_caller]
fn refused(file: &[u8], why: &str) {
    let error = Picture::read(file).unwrap_err();
    assert!(matches!(&error, Error::Content { why: told, .. } if told.contains(why)), "{error}");
}

#[test]
fn what_is_no_photo_is_refused_with_the_reason() {
    refused(b"", "no JPEG and no PNG");
    refused(b"PK\x03\x04 renamed to photo.jpg", "no JPEG and no PNG");
    refused(&jpeg([40, 30])[..400], "cut short");
    refused(&png([40, 30])[..60], "cut short");
    refused(&vec![0xFF; (25 << 20) + 1], "at most 26214400");
}

#[test]
fn files_that_would_unfold_without_bound_are_refused_before_they_do() {
    // Sides that the head claims: 50 000 each are 2.5 thousand million pixels.
    let mut file = png([40, 30]);
    for place in [16, 20] {
        file[place..place + 4].copy_from_slice(&50_000_u32.to_be_bytes());
    }
    let crc = crc32(&file[12..29]);
    file[29..33].copy_from_slice(&crc.to_be_bytes());
    let began = std::time::Instant::now();
    assert!(Picture::read(&file).is_err());
    let mut file = jpeg([40, 30]);
    let frame = file.windows(2).position(|pair| pair == b"\xFF\xC0").unwrap();
    file[frame + 5..frame + 9].copy_from_slice(&[0xFF, 0xFF, 0xFF, 0xFF]);
    assert!(Picture::read(&file).is_err());
    let mut many = b"\xFF\xD8".to_vec();
    many.extend(b"\xFF\xDA\0\x04\x01\x02\x10".repeat(10_000));
    many.extend(b"\xFF\xD9");
    refused(&many, "cut short or damaged");
    assert!(began.elapsed().as_secs() < 5, "they were unfolded: {:?}", began.elapsed());
}

/// The checksum of a chunk (PNG specification, annex D), bit by bit.
fn crc32(bytes: &[u8]) -> u32 {
    let bits = |crc: u32| (0..8).fold(crc, |crc, _| if crc & 1 == 1 { 0xEDB8_8320 ^ (crc >> 1) } else { crc >> 1 });
    !bytes.iter().fold(u32::MAX, |crc, byte| bits(crc ^ u32::from(*byte)))
}

#[test]
fn a_damaged_photo_is_told_and_never_takes_the_program_down() {
    for file in [taken([40, 30], 6), png([40, 30])] {
        for place in (0..file.len()).step_by(3) {
            let mut damaged = file.clone();
            damaged[place] ^= 0x55;
            match Picture::read(&damaged) {
                Ok(picture) => assert!(picture.size()[0] > 0),
                Err(error) => assert!(matches!(error, Error::Content { .. }), "byte {place}: {error}"),
            }
        }
    }
}

#[test]
fn a_photo_is_taken_first_and_filed_later_and_found_by_its_words() {
    on_both(|store| async move {
        let (job, other) = (taken_in(&store, "Anna Vogel").await, taken_in(&store, "Jan Maas").await);
        let write = store.begin(now(1)).await.unwrap();
        let photo = write.keep_photo(Picture::read(&jpeg([40, 30])).unwrap(), "shavings everywhere").await.unwrap();
        let finding = write.add(Finding::new(&write, job.id, "metal-left", Answer::Yes)).await.unwrap();
        assert_eq!(unfiled_photos(&write, 9).await.unwrap(), vec![photo.clone()]);
        let wrong = Photo { job: Some(other.id), finding: Some(finding.id), ..photo.clone() };
        write.commit().await.unwrap();
        let write = store.begin(now(2)).await.unwrap();
        assert!(matches!(write.save(wrong).await, Err(Error::Constraint { .. })), "another job's finding");
        drop(write);
        let write = store.begin(now(3)).await.unwrap();
        let filed = Photo {
            job: Some(job.id),
            finding: Some(finding.id),
            shows: "pinion".into(),
            moment: Some(PhotoMoment::Before),
            ..photo
        };
        let filed = write.save(filed).await.unwrap().saved().unwrap();
        write.commit().await.unwrap();
        assert!(unfiled_photos(&store, 9).await.unwrap().is_empty());
        assert_eq!(photos_of(&store, job.id).await.unwrap(), vec![filed.clone()]);
        assert_eq!(find(&store, "shavings", 9).await.unwrap()[0].subject, Subject::Job(job.id));

        let write = store.begin(now(4)).await.unwrap();
        let moved = Photo { job: Some(other.id), finding: None, ..filed };
        let moved = write.save(moved).await.unwrap().saved().unwrap();
        let found: Vec<Subject> = find(&write, "shavings", 9).await.unwrap().iter().map(|hit| hit.subject).collect();
        assert_eq!(found, [Subject::Job(other.id)], "the words moved with it");
        write.forget_photo(&moved).await.unwrap();
        assert!(find(&write, "shavings", 9).await.unwrap().is_empty());
        assert!(photo_bytes(&write, &moved, Scale::Small).await.is_err());
        assert_eq!(audit_of(&write, &moved.id.to_string()).await.unwrap().last().unwrap().act, "taken away");
    });
}

#[test]
fn no_other_hand_changes_what_was_photographed() {
    on_both(|store| async move {
        let write = store.begin(now(1)).await.unwrap();
        let photo = write.keep_photo(Picture::read(&jpeg([40, 30])).unwrap(), "").await.unwrap();
        write.commit().await.unwrap();
        for sql in [
            "UPDATE photo SET sha256 = upper(sha256) || ''",
            "UPDATE photo SET width = width + 1",
            "UPDATE photo SET moment = 'before'",
            "UPDATE photo_copy SET scale = 'large' WHERE scale = 'small'",
            "DELETE FROM photo",
        ] {
            assert!(store.connection().execute_unprepared(sql).await.is_err(), "{sql}");
        }
        assert!(photo_bytes(&store, &photo, Scale::Original).await.is_ok());
    });
}

#[test]
fn photos_move_with_the_shop() {
    let (here, there) = (on_sqlite(), on_postgres());
    wait(async {
        let store = Store::open(&here.place).await.unwrap();
        let write = store.begin(now(1)).await.unwrap();
        let mut kept = Vec::new();
        for side in [40, 50, 60] {
            kept.push(write.keep_photo(Picture::read(&jpeg([side, 30])).unwrap(), "").await.unwrap());
        }
        write.commit().await.unwrap();
        let mut out = Vec::new();
        write_archive(&store.view().await.unwrap(), &mut out, |_| {}).await.unwrap();
        check_archive(&mut Cursor::new(&out), |_| {}).unwrap();
        let other = Store::open(&there.place).await.unwrap();
        restore(&other, &mut Cursor::new(&out), |_| {}).await.unwrap();
        for photo in kept {
            let scales = [Scale::Original, Scale::Large, Scale::Small];
            for scale in scales {
                let [here, there] =
                    [photo_bytes(&store, &photo, scale).await, photo_bytes(&other, &photo, scale).await];
                assert_eq!(here.unwrap(), there.unwrap(), "{scale:?}");
            }
        }
    });
}
