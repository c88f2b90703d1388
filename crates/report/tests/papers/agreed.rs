//! What is told was agreed on: the shop's own lines, the repair that was taken, a price that rose, a plan that moved on.

use crate::readers::text;
use crate::shop::{CHECKED, STRIPPED, Weighed, cover};
use toothsayer_quantity::{Currency, Money, System};
use toothsayer_report::{Cover, Offered, OwnLine, PaperKind, PaperSize, Standing, customer_parts};

fn euro(minor: i64) -> Money {
    Money { minor, currency: Currency::EUR }
}

/// 2 clips for 1.20 EUR each, and half an hour of work for 30 EUR.
fn lines() -> Vec<OwnLine> {
    let line = |text: &str, is_work, quantity, minor, minutes| OwnLine {
        text: text.into(),
        is_work,
        quantity,
        each: euro(minor),
        minutes,
    };
    vec![line("Body clips", false, 2, 120, 0), line("Glue the body shell", true, 1, 3_000, 30)]
}

/// The repair of the stripped example that is recommended, as it was offered, moved by so much.
fn taken(minor: i64, minutes: i64) -> Offered {
    let name = "Smallest sound, recommended".into();
    Offered { name, price: euro(10_107 + minor), minutes: 76 + minutes, comeback_ppm: None }
}

fn paper(job: &Weighed, kind: PaperKind, cover: &Cover) -> String {
    let told = format!("{:?}", (&cover.taken, &cover.agreed, cover.standing, cover.lines.len()));
    let name = format!("agreed-{}-{}", kind.name(), told.replace(|letter: char| !letter.is_ascii_alphanumeric(), ""));
    text(&name, &job.paper(kind, cover).bytes)
}

/// What the customer reads of the work, as text.
fn page(job: &Weighed, cover: &Cover) -> String {
    customer_parts(&job.matter(cover, System::Metric, PaperSize::A4)).unwrap().work.replace('\u{a0}', " ")
}

#[test]
fn a_quote_tells_each_own_line_and_signs_for_the_whole() {
    let cover = Cover { lines: lines(), standing: Standing::Proposed, ..cover() };
    let quote = paper(&STRIPPED, PaperKind::Quote, &cover);
    // 101.07 + 2 x 1.20 + 30.00 EUR, and 1 h 16 min + 30 min.
    for told in
        ["Body clips 2 1.20 EUR 2.40 EUR", "Glue the body shell 1 30.00 EUR 30.00 EUR", ": 133.47 EUR, 1 h 46 min"]
    {
        assert!(quote.contains(told), "{told}: {quote}");
    }
    let choice = quote.split("Your choice").nth(1).unwrap().split("Price against").next().unwrap();
    assert!(!choice.contains("101.07"), "nothing is signed for without its lines: {choice}");
}

#[test]
fn own_lines_stand_wherever_the_work_is_told() {
    let cover = Cover { lines: lines(), standing: Standing::Proposed, ..cover() };
    let hand_over = paper(&STRIPPED, PaperKind::HandOver, &cover);
    for told in ["Glue the body shell", "2 × Body clips", "Time: 1 h 46 min. Price: 133.47 EUR."] {
        assert!(hand_over.contains(told), "{told}: {hand_over}");
    }
    let bench = paper(&STRIPPED, PaperKind::BenchSheet, &cover);
    for told in ["in bench order: 1 h 46 min", "Glue the body shell 30 min", "2 × Body clips 2.40 EUR"] {
        assert!(bench.contains(told), "{told}: {bench}");
    }
    let page = page(&STRIPPED, &cover);
    assert!(page.contains("Glue the body shell") && page.contains("2 × Body clips"), "{page}");
}

#[test]
fn the_bench_sheet_prints_the_repair_that_was_taken() {
    let nothing = Cover { standing: Standing::Proposed, ..cover() };
    let proposed = paper(&STRIPPED, PaperKind::BenchSheet, &nothing);
    assert!(proposed.contains("No repair is agreed on yet.") && proposed.contains("in bench order: 1 h 16 min"));
    let gears = Offered { name: "New gears only".into(), price: euro(9_465), minutes: 69, comeback_ppm: None };
    let agreed = Cover { taken: Some(gears), agreed: Some(euro(9_465)), ..nothing };
    let told = paper(&STRIPPED, PaperKind::BenchSheet, &agreed);
    assert!(told.contains("Agreed on: New gears only."), "{told}");
    assert!(told.contains("in bench order: 1 h 09 min"), "{told}");
    assert!(told.contains("The torque windows are those for the blows of the recommended repair."), "{told}");
}

#[test]
fn what_costs_more_than_was_agreed_on_is_not_told_as_agreed() {
    let agreed =
        Cover { taken: Some(taken(0, 0)), agreed: Some(euro(10_107)), standing: Standing::Proposed, ..cover() };
    let rose = Cover { lines: lines(), ..agreed.clone() };
    let [fits, above] = [&agreed, &rose].map(|cover| paper(&STRIPPED, PaperKind::HandOver, cover));
    assert!(fits.contains("What will be done The work that was agreed on. Time:"), "{fits}");
    let told = "It was agreed on up to 101.07 EUR. Now it comes to 133.47 EUR: we ask you again before we go on.";
    assert!(above.contains(told) && above.contains("What is proposed") && !above.contains("What will be done"));
    assert!(!above.contains("Price: "), "the price is told with what was agreed on: {above}");
    assert!(page(&STRIPPED, &rose).contains(told));
    assert!(paper(&STRIPPED, PaperKind::BenchSheet, &rose).contains("ask the customer before work goes on"));
}

#[test]
fn another_repair_is_never_told_as_the_agreed_one() {
    let gone =
        Cover { taken: Some(taken(-1_000, -20)), agreed: Some(euro(9_107)), standing: Standing::Proposed, ..cover() };
    let told = "Agreed on was: Smallest sound, recommended, 91.07 EUR.";
    for told_there in [paper(&STRIPPED, PaperKind::HandOver, &gone), page(&STRIPPED, &gone)] {
        assert!(told_there.contains(told), "{told_there}");
        assert!(!told_there.contains("Set the mesh") && !told_there.contains("Will it hold?"), "{told_there}");
    }
    let bench = paper(&STRIPPED, PaperKind::BenchSheet, &gone);
    assert!(bench.contains("Smallest sound, recommended, 91.07 EUR") && !bench.contains("in bench order"), "{bench}");
}

#[test]
fn the_customer_reads_words_where_engineers_read_figures() {
    for job in [&STRIPPED, &CHECKED] {
        for standing in [Standing::Proposed, Standing::Done] {
            let cover = Cover { standing, ..cover() };
            let parts = customer_parts(&job.matter(&cover, System::Metric, PaperSize::A4)).unwrap();
            let page = (parts.happened + &parts.work + &parts.details).replace('\u{a0}', " ");
            for told in [page, paper(job, PaperKind::HandOver, &cover)] {
                for figure in ["fails:", "margin 1", "alone strips", "Tightest", "likely to be there", "with 69"] {
                    assert!(!told.contains(figure), "{figure}: {told}");
                }
                assert!(told.contains("in 100"), "{told}");
            }
        }
    }
}

#[test]
fn done_work_tells_the_parts_that_were_noted_as_fitted() {
    for (fitted, standing, says) in [
        (None, Standing::Done, "New parts: pinion 19 and spur 53."),
        (Some(vec!["pinion 19".to_owned()]), Standing::Done, "New parts: pinion 19."),
        (Some(vec!["pinion 19".to_owned()]), Standing::Proposed, "New parts: pinion 19 and spur 53."),
        (Some(Vec::new()), Standing::Done, ""),
    ] {
        let cover = Cover { fitted: fitted.clone(), standing, ..cover() };
        let name = format!("fitted-{standing:?}-{}", fitted.map_or(9, |parts| parts.len()));
        let paper = text(&name, &STRIPPED.paper(PaperKind::HandOver, &cover).bytes);
        assert!(paper.contains(says) && (says.is_empty() != paper.contains("New parts:")), "{name}: {paper}");
    }
}
