//! A table as CSV by RFC 4180, safe to open in a spreadsheet.
//!
//! A spreadsheet takes a cell that begins with `=`, `+`, `-` or `@`, or with a tabulator or carriage return before one,
//! for a formula, quoted or not. So a text that begins so, or with an apostrophe, gets one apostrophe more in front:
//! whoever reads the file takes exactly one away. Numbers are written as they are.

use crate::archive::{of_file, page};
use crate::error::Result;
use crate::parts::{ORDER_COLUMNS, OrderLine};
use crate::row::{Row, map_of_row, shown_open};
use crate::store::View;
use crate::table::Table;
use serde_json::Value;
use std::io::Write;

/// Writes all rows of a table behind a line of its columns' names; answers how many rows. Times are RFC 3339, amounts
/// minor units, flags true or false; what is not there is nothing, an empty text two quotes.
///
/// # Errors
/// The database does not answer, or the file cannot be written.
pub async fn write_csv(view: &View, table: &Table, out: &mut (impl Write + Send)) -> Result<u64> {
    let heads: Vec<String> = table.columns.iter().map(|column| column.name.to_owned()).collect();
    line(out, &heads)?;
    let (mut rows, mut last) = (0, None);
    loop {
        let page = page(view, table, last.as_ref()).await?;
        for row in &page {
            line(out, &cells(table, row)?)?;
        }
        rows += page.len() as u64;
        match page.into_iter().last() {
            Some(row) => last = Some(row),
            None => break,
        }
    }
    out.flush().map_err(|error| of_file(&error))?;
    Ok(rows)
}

/// Cells of the order list that hold numbers.
const NUMBERS: [&str; 4] = ["quantity", "cost of one", "cost", "lead time (days)"];

/// The order list behind a line of its columns' names.
pub fn order_csv(lines: &[OrderLine]) -> String {
    let cell = |(name, text): (&&str, String)| if NUMBERS.contains(name) { text } else { quoted(&text) };
    let rows = lines.iter().map(|line| ORDER_COLUMNS.iter().zip(line.cells()).map(cell).collect::<Vec<_>>().join(","));
    [ORDER_COLUMNS.join(",")].into_iter().chain(rows).map(|row| row + "\r\n").collect()
}

fn line(out: &mut impl Write, cells: &[String]) -> Result<()> {
    out.write_all(format!("{}\r\n", cells.join(",")).as_bytes()).map_err(|error| of_file(&error))
}

fn cells(table: &Table, row: &Row) -> Result<Vec<String>> {
    let map = map_of_row(table, row, shown_open)?;
    Ok(table.columns.iter().map(|column| cell(map.get(column.name).unwrap_or(&Value::Null))).collect())
}

fn cell(value: &Value) -> String {
    match value {
        Value::Null => String::new(),
        Value::String(text) => quoted(text),
        Value::Array(_) | Value::Object(_) => quoted(&value.to_string()),
        plain => plain.to_string(),
    }
}

/// A text in quotes, quotes in it doubled, with an apostrophe before what a spreadsheet would compute.
fn quoted(text: &str) -> String {
    let guard = if text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n', '\'']) { "'" } else { "" };
    format!("\"{guard}{}\"", text.replace('"', "\"\""))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Id, KeptGear, Moment, Part, Short};
    use serde_json::json;

    #[track_caller]
    fn check(value: Value, expected: &str) {
        assert_eq!(cell(&value), expected);
    }

    #[test]
    fn cells_are_written_as_the_standard_says() {
        // RFC 4180, 2, rules 5 to 7: quotes around, quotes inside doubled, line breaks and commas kept.
        check(json!("a \"b\", c\r\nd"), "\"a \"\"b\"\", c\r\nd\"");
        check(json!(""), "\"\"");
        check(Value::Null, "");
        check(json!(true), "true");
        check(json!(-5), "-5");
        check(json!({ "a": [1] }), "\"{\"\"a\"\":[1]}\"");
    }

    #[test]
    fn no_text_becomes_a_formula() {
        for text in ["=1+1", "+49 30", "-1", "@SUM(A1)", "\t=1", "\r=1", "'=1"] {
            check(json!(text), &format!("\"'{text}\""));
        }
        check(json!("Anna =1"), "\"Anna =1\"");
    }

    #[test]
    fn the_order_list_keeps_order_numbers_as_texts_and_amounts_as_numbers() {
        let why = Short { needed: 2, keep: 0, free: 0, coming: 0 };
        let line = OrderLine { supplier: "=Row, \"A\"".into(), part: spur(), quantity: 2, jobs: vec![3, 4], why };
        let told = order_csv(&[line]);
        assert_eq!(
            told,
            "supplier,order number,part,quantity,cost of one,cost,currency,lead time (days),for jobs\r\n\
             \"'=Row, \"\"A\"\"\",\"0012\",\"spur 53\",2,9.00,18.00,\"EUR\",,\"3 4\"\r\n"
        );
    }

    fn spur() -> Part {
        let now = Moment::from_ms(0).unwrap();
        Part {
            id: Id::new(now),
            name: "spur 53".into(),
            gear: KeptGear::default(),
            supplier: String::new(),
            order_number: "0012".into(),
            currency: "EUR".into(),
            cost: 900,
            price: 1_450,
            lead_days: None,
            keep: 0,
            active: true,
            version: 1,
            changed: now,
        }
    }
}
