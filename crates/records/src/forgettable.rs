//! Triggers of tables whose rows are never changed, but for the words of a customer who was erased.

/// The statements that let some columns of a table be changed where the customer is erased, and nothing else:
/// `table BUT column, column KEEPING column, column OF truck` (or `OF job`, `OF need`, as its rows hang on one).
pub(crate) fn forgettable(what: &str, postgres: bool) -> Vec<String> {
    let (table, rest) = what.split_once(" BUT ").unwrap_or((what, ""));
    let (_, kept) = rest.split_once(" KEEPING ").unwrap_or((rest, ""));
    let (kept, of) = kept.split_once(" OF ").unwrap_or((kept, "job"));
    let moved = kept.split(", ").map(|column| format!("NEW.{column} IS DISTINCT FROM OLD.{column}"));
    let wrong = format!("{} OR NOT EXISTS ({})", moved.collect::<Vec<_>>().join(" OR "), erased(of));
    let told = format!("rows of {table} are never changed");
    if !postgres {
        return vec![
            format!("DROP TRIGGER {table}_change"),
            format!(
                "CREATE TRIGGER {table}_change BEFORE UPDATE ON {table} WHEN {wrong} \
                 BEGIN SELECT RAISE(ABORT, '{told}'); END"
            ),
        ];
    }
    vec![
        format!("DROP TRIGGER {table}_change ON {table}"),
        format!(
            "CREATE FUNCTION {table}_forget() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN \
             IF {wrong} THEN RAISE EXCEPTION '{told}'; END IF; RETURN NEW; END $$"
        ),
        format!(
            "CREATE TRIGGER {table}_change BEFORE UPDATE ON {table} FOR EACH ROW EXECUTE FUNCTION {table}_forget()"
        ),
    ]
}

/// The question that answers a row where the customer of a truck, a job or a needed part is erased.
fn erased(of: &str) -> &'static str {
    match of {
        "truck" => {
            "SELECT 1 FROM truck JOIN customer ON customer.id = truck.customer \
             WHERE truck.id = OLD.truck AND customer.erased = 1"
        }
        "need" => {
            "SELECT 1 FROM need JOIN job ON job.id = need.job JOIN truck ON truck.id = job.truck \
             JOIN customer ON customer.id = truck.customer WHERE need.id = OLD.need AND customer.erased = 1"
        }
        _ => {
            "SELECT 1 FROM job JOIN truck ON truck.id = job.truck JOIN customer ON customer.id = truck.customer \
             WHERE job.id = OLD.job AND customer.erased = 1"
        }
    }
}

/// The statements that take those triggers down; the table's older ones follow.
pub(crate) fn unforgettable(table: &str, postgres: bool) -> Vec<String> {
    if postgres {
        return vec![format!("DROP TRIGGER {table}_change ON {table}"), format!("DROP FUNCTION {table}_forget()")];
    }
    vec![format!("DROP TRIGGER {table}_change")]
}
