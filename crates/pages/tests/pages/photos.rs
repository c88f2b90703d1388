//! Photos: kept upright and without the place, filed to what they show; what is no photo is refused plainly.

use crate::ground::{Shop, request, wait};
use crate::hand_over::link;
use axum::body::Body;
use axum::http::StatusCode;
use axum::http::header::{CONTENT_LENGTH, CONTENT_TYPE};
use std::sync::atomic::{AtomicU32, Ordering};
use toothsayer_records::{Photo, PhotoMoment, job_by_number, photos_of, unfiled_photos};

/// Divides the parts of a form (RFC 7578, 4.1).
const BETWEEN: &str = "between-the-parts";
/// A grey JPEG file of 16 x 8 pixels (ITU-T T.81): both of its blocks hold the same, so that its scan is a few bits.
const WIDTH: u16 = 16;
const HEIGHT: u16 = 8;

/// A marker's segment with its length in front (ITU-T T.81, B.1.1.4).
fn segment(marker: u8, content: &[u8]) -> Vec<u8> {
    let length = u16::try_from(content.len() + 2).unwrap().to_be_bytes();
    [&[0xFF, marker], &length[..], content].concat()
}

/// The smallest baseline file: one table of each sort, one component, two blocks of mid grey.
pub fn jpeg(exif: &[u8]) -> Vec<u8> {
    let table = [&[0][..], &[1; 64]].concat();
    let [height, width] = [HEIGHT, WIDTH].map(u16::to_be_bytes);
    let frame = [&[8][..], &height, &width, &[1, 1, 0x11, 0]].concat();
    // One code of one bit in each table: "0" says that nothing differs, and that the block ends.
    let codes = |class: u8| [&[class, 1][..], &[0; 15], &[0]].concat();
    let scan = [&segment(0xDA, &[1, 1, 0, 0, 63, 0])[..], &[0b0000_1111]].concat();
    let parts =
        [segment(0xDB, &table), segment(0xC0, &frame), segment(0xC4, &codes(0x00)), segment(0xC4, &codes(0x10)), scan];
    [&[0xFF, 0xD8], exif, &parts.concat(), &[0xFF, 0xD9]].concat()
}

/// Exif with orientation 6 (turned right to stand upright) and a place (CIPA DC-008, 4.6.5 A and 4.6.6), big-endian.
fn turned_and_placed() -> Vec<u8> {
    let head = b"Exif\0\0MM\0\x2A\0\0\0\x08\0\x02\x01\x12\0\x03\0\0\0\x01\0\x06\0\0";
    let place = b"\x88\x25\0\x04\0\0\0\x01\0\0\0\x26\0\0\0\0\0\x01\0\x01\0\x02\0\0\0\x02N\0\0\0\0\0\0\0PLACE 47.3";
    segment(0xE1, &[&head[..], place].concat())
}

/// A form with a photo as browsers send it, with a key of its own.
fn form(file: &[u8], name: &str, texts: &[(&str, &str)]) -> Vec<u8> {
    let key = format!("photo-of-test-{}", FORMS.fetch_add(1, Ordering::Relaxed));
    keyed(&key, file, name, texts)
}

static FORMS: AtomicU32 = AtomicU32::new(0);

fn keyed(key: &str, file: &[u8], name: &str, texts: &[(&str, &str)]) -> Vec<u8> {
    let mut body = Vec::new();
    for (field, text) in texts.iter().chain(&[("key", key)]) {
        let part = format!("--{BETWEEN}\r\nContent-Disposition: form-data; name=\"{field}\"\r\n\r\n{text}\r\n");
        body.extend_from_slice(part.as_bytes());
    }
    let head = format!(
        "--{BETWEEN}\r\nContent-Disposition: form-data; name=\"photo\"; filename=\"{name}\"\r\nContent-Type: image/jpeg\r\n\r\n"
    );
    body.extend_from_slice(head.as_bytes());
    body.extend_from_slice(file);
    body.extend_from_slice(format!("\r\n--{BETWEEN}--\r\n").as_bytes());
    body
}

/// What a browser would be told: status, where to go on, the page.
async fn send(shop: &Shop, cookie: &str, path: &str, body: Vec<u8>) -> (StatusCode, String, String) {
    let media = format!("multipart/form-data; boundary={BETWEEN}");
    let request = request("POST", path, cookie).header(CONTENT_TYPE, media).header(CONTENT_LENGTH, body.len());
    let request = request.body(Body::from(body)).unwrap();
    let answer = shop.send(request).await;
    (answer.status, answer.to().to_owned(), answer.body)
}

async fn bytes(shop: &Shop, cookie: &str, path: &str) -> (String, Vec<u8>) {
    let (status, headers, served) = shop.bytes(request("GET", path, cookie).body(Body::empty()).unwrap()).await;
    assert_eq!(status, StatusCode::OK, "{path}");
    (headers[CONTENT_TYPE].to_str().unwrap().to_owned(), served)
}

async fn taken(shop: &Shop) -> Photo {
    let job = job_by_number(&shop.store, 1).await.unwrap();
    photos_of(&shop.store, job.id).await.unwrap().pop().unwrap()
}

#[test]
fn a_photo_that_is_sent_twice_is_kept_once() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let job = job_by_number(&shop.store, 1).await.unwrap();
        for path in ["/jobs/1/photos", "/photos"] {
            let key = format!("the-same-photo{}", path.replace('/', "-"));
            for _ in 0..2 {
                let body = keyed(&key, &jpeg(&[]), "bench.jpg", &[("note", "as it came")]);
                assert_eq!(send(&shop, &technician, path, body).await.1, path);
            }
        }
        assert_eq!(photos_of(&shop.store, job.id).await.unwrap().len(), 1);
        assert_eq!(unfiled_photos(&shop.store, 10).await.unwrap().len(), 1);
    });
}

#[test]
fn a_photo_stands_upright_and_tells_no_place() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let answered = [("check", "motor-rocks"), ("answer", "yes"), ("version", "0")];
        shop.post(&technician, "/jobs/1/findings", &answered).await;
        assert!(shop.get(&technician, "/jobs/1").await.body.contains("/jobs/1/photos?check=motor-rocks"));
        let page = shop.get(&technician, "/jobs/1/photos?check=motor-rocks").await.body;
        assert!(page.contains("value=\"motor-rocks\" selected"), "the check that it is taken for is chosen");

        let file = jpeg(&turned_and_placed());
        assert!(file.windows(5).any(|text| text == b"PLACE"), "the trial file tells the place");
        let texts = [("check", "motor-rocks"), ("moment", "before"), ("note", "<b>rocks</b>")];
        let (status, to, told) =
            send(&shop, &technician, "/jobs/1/photos", form(&file, "../../etc/passwd", &texts)).await;
        assert_eq!((status, to.as_str()), (StatusCode::SEE_OTHER, "/jobs/1/photos"), "{told}");
        let photo = taken(&shop).await;
        assert_eq!((photo.width, photo.height), (i64::from(HEIGHT), i64::from(WIDTH)), "it was turned");
        assert_eq!(photo.moment, Some(PhotoMoment::Before));
        assert!(photo.finding.is_some());
        for (scale, media) in [("small", "image/jpeg"), ("large", "image/jpeg"), ("original", "image/jpeg")] {
            let (is, served) = bytes(&shop, &technician, &format!("/photos/{}/{scale}", photo.id)).await;
            assert_eq!(is, media);
            assert!(served.starts_with(&[0xFF, 0xD8]) && !served.windows(5).any(|text| text == b"PLACE"), "{scale}");
        }
        let page = shop.get(&technician, "/jobs/1/photos").await.body;
        assert!(page.contains("Before the work") && page.contains("&lt;b&gt;rocks") && !page.contains("<b>rocks"));
        assert!(!page.contains("passwd"), "the file's name is not looked at");
    });
}

#[test]
fn a_photo_is_filed_later_and_by_whoever_is_first() {
    wait(async {
        let (shop, [owner, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let (status, ..) =
            send(&shop, &technician, "/photos", form(&jpeg(&[]), "a.jpg", &[("note", "shavings")])).await;
        assert_eq!(status, StatusCode::SEE_OTHER);
        assert!(shop.get(&owner, "/photos").await.body.contains("shavings"));
        let photo = unfiled_photos(&shop.store, 9).await.unwrap().pop().unwrap();
        let path = format!("/photos/{}", photo.id);
        let filing =
            |moment| [("version", "1"), ("job", "1"), ("moment", moment), ("shows", "pinion"), ("note", "shavings")];
        assert_eq!(shop.post(&technician, &path, &filing("after")).await.to(), "/jobs/1/photos");
        let late = shop.post(&owner, &path, &filing("before")).await;
        assert_eq!(late.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(late.body.contains("filed this photo meanwhile"));
        assert_eq!(taken(&shop).await.moment, Some(PhotoMoment::After));
        for (job, status) in [("many", StatusCode::UNPROCESSABLE_ENTITY), ("99", StatusCode::NOT_FOUND)] {
            let answer = shop.post(&owner, &path, &[("version", "2"), ("job", job)]).await;
            assert_eq!(answer.status, status, "job {job}");
        }
        let unknown = shop.post(&owner, &path, &[("version", "2"), ("job", "1"), ("check", "motor-rocks")]).await;
        assert!(unknown.body.contains("Nobody answered that check yet"));
        assert_eq!(shop.post(&owner, &format!("{path}/forget"), &[]).await.to(), "/jobs/1/photos");
        assert_eq!(shop.get(&owner, &format!("{path}/small")).await.status, StatusCode::NOT_FOUND);
    });
}

#[test]
fn a_photo_is_shown_behind_its_own_jobs_link_alone() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        for _ in 0..2 {
            shop.take_in(&counter, &[]).await;
        }
        let body = form(&jpeg(&[]), "rocks.jpg", &[("moment", "before")]);
        assert_eq!(send(&shop, &technician, "/jobs/1/photos", body).await.0, StatusCode::SEE_OTHER);
        let photo = taken(&shop).await.id;
        let [own, other] = [link(&shop, &counter, 1).await, link(&shop, &counter, 2).await];
        assert_eq!(bytes(&shop, "", &format!("{own}/photos/{photo}")).await.0, "image/jpeg");
        let refused = shop.get("", &format!("{other}/photos/{photo}")).await;
        assert_eq!(refused.status, StatusCode::NOT_FOUND);
        assert_eq!(refused.body, shop.get("", &format!("{other}/photos/none")).await.body, "as one that is not there");
    });
}

#[test]
fn what_is_no_photo_is_refused_plainly() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let mut bomb = jpeg(&[]);
        let frame = bomb.windows(2).position(|pair| pair == b"\xFF\xC0").unwrap();
        bomb[frame + 5..frame + 9].copy_from_slice(&[0xFF; 4]);
        let cut = jpeg(&[])[..40].to_vec();
        let files: [(&[u8], &str); 5] = [
            (b"", "no JPEG and no PNG"),
            (b"PK\x03\x04 renamed to photo.jpg", "no JPEG and no PNG"),
            (b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>", "no JPEG and no PNG"),
            (&cut, "cut short or damaged"),
            (&bomb, "The photo: "),
        ];
        for (file, told) in files {
            let (status, _, page) =
                send(&shop, &technician, "/jobs/1/photos", form(file, "photo.jpg", &[("note", "kept note")])).await;
            assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{told}");
            assert!(page.contains(told), "{told}");
            assert!(page.contains("value=\"kept note\""), "what was typed is still there");
        }
        let job = job_by_number(&shop.store, 1).await.unwrap();
        assert!(photos_of(&shop.store, job.id).await.unwrap().is_empty());
    });
}

#[test]
fn what_is_too_large_or_no_form_is_refused_before_it_is_looked_at() {
    wait(async {
        let (shop, [_, counter, technician]) = Shop::with_people().await;
        shop.take_in(&counter, &[]).await;
        let (status, _, page) =
            send(&shop, &technician, "/jobs/1/photos", form(&vec![0xFF; 26 << 20], "photo.jpg", &[])).await;
        assert_eq!(status, StatusCode::PAYLOAD_TOO_LARGE);
        assert!(page.contains("up to 25 MB"), "{page}");
        let many: Vec<(String, String)> = (0..40).map(|number| (format!("t{number}"), "x".to_owned())).collect();
        let many: Vec<(&str, &str)> = many.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
        let (status, ..) = send(&shop, &technician, "/jobs/1/photos", form(&jpeg(&[]), "photo.jpg", &many)).await;
        assert_eq!(status, StatusCode::PAYLOAD_TOO_LARGE);
        let (status, ..) = send(&shop, &technician, "/jobs/1/photos", b"no parts at all".to_vec()).await;
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
        let plain = shop.post(&technician, "/jobs/1/photos", &[("photo", "text")]).await;
        assert_eq!(plain.status, StatusCode::BAD_REQUEST);
        for path in ["/photos/..%2f..%2fetc%2fpasswd/small", "/photos/no-id/small", "/photos/no-id/huge"] {
            assert_eq!(shop.get(&technician, path).await.status, StatusCode::NOT_FOUND, "{path}");
        }
    });
}
