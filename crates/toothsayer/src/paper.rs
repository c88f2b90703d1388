//! Laying text out for a terminal of any width: paragraphs, tables, headings; colour never alone.

use std::io::{IsTerminal, Write};
use std::process::ExitCode;
use textwrap::{Options, fill};
use unicode_width::UnicodeWidthStr;

/// Widest text that is laid out.
const WIDEST: usize = 110;
/// Narrowest terminal that is served.
const NARROWEST: usize = 34;
/// Width where nobody looks.
const UNSEEN: usize = 100;
/// Narrowest first column of a table before its rows are folded into blocks.
const NARROWEST_FIRST: usize = 14;

/// Writes to standard output; a reader that stops early is no failure.
pub fn print(text: &str) -> ExitCode {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(_) => ExitCode::from(1),
    }
}

/// A tint that goes with a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tint {
    /// It holds.
    Good,
    /// It may.
    Doubt,
    /// It fails.
    Bad,
    /// A heading.
    Strong,
}

/// A sheet of text being written.
pub struct Paper {
    text: String,
    width: usize,
    coloured: bool,
}

impl Paper {
    /// For standard output as it is.
    pub fn new() -> Self {
        let seen = std::io::stdout().is_terminal();
        let columns = std::env::var("COLUMNS").ok().and_then(|text| text.parse().ok());
        let measured = || terminal_size::terminal_size().map(|(width, _)| usize::from(width.0));
        let width = columns.or_else(|| seen.then(measured).flatten()).unwrap_or(UNSEEN);
        let coloured = seen && std::env::var_os("NO_COLOR").is_none();
        Self { text: String::new(), width: width.clamp(NARROWEST, WIDEST), coloured }
    }

    /// The text.
    pub fn finish(self) -> String {
        self.text
    }

    /// Tints a word where the terminal shows colour.
    pub fn tint(&self, tint: Tint, word: &str) -> String {
        let code = match tint {
            Tint::Good => "32",
            Tint::Doubt => "33",
            Tint::Bad => "31;1",
            Tint::Strong => "1",
        };
        if self.coloured { format!("\x1b[{code}m{word}\x1b[0m") } else { word.to_owned() }
    }

    /// A heading with a rule below it.
    pub fn heading(&mut self, text: &str) {
        self.blank();
        let rule = "─".repeat(text.width().min(self.width));
        let strong = self.tint(Tint::Strong, &fill(text, self.width));
        self.text.push_str(&format!("{strong}\n{rule}\n"));
    }

    /// A paragraph.
    pub fn paragraph(&mut self, text: &str) {
        self.text.push_str(&fill(text, self.width));
        self.text.push('\n');
    }

    /// A paragraph behind a mark, its further lines under its first word.
    pub fn item(&mut self, mark: &str, text: &str) {
        let indent = " ".repeat(mark.width() + 1);
        let first = format!("{mark} ");
        let options = Options::new(self.width).initial_indent(&first).subsequent_indent(&indent);
        self.text.push_str(&fill(text, options));
        self.text.push('\n');
    }

    /// Columns of text that fit beside a margin.
    pub fn columns(&self, margin: usize) -> usize {
        self.width.saturating_sub(margin)
    }

    /// Lines as they are.
    pub fn lines(&mut self, lines: &[String]) {
        for line in lines {
            self.text.push_str(line.trim_end());
            self.text.push('\n');
        }
    }

    /// An empty line, never two.
    pub fn blank(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with("\n\n") {
            self.text.push('\n');
        }
    }

    /// Whether a table's columns stand side by side here.
    pub fn fits(&self, table: &Table) -> bool {
        self.first_width(table).is_some()
    }

    /// Width left for the first column, folded where that is enough.
    fn first_width(&self, table: &Table) -> Option<usize> {
        let widths = table.widths();
        let first = widths.first().copied()?;
        let others = widths.iter().skip(1).sum::<usize>() + 2 * widths.len().saturating_sub(1);
        let room = self.width.saturating_sub(others);
        (room >= first.min(NARROWEST_FIRST)).then_some(first.min(room))
    }

    /// A table: columns side by side where they fit, else a block for each row.
    pub fn table(&mut self, table: &Table) {
        match self.first_width(table) {
            Some(first) => {
                let mut widths = table.widths();
                widths[0] = first;
                self.side_by_side(table, &widths);
            }
            None => self.blocks(table),
        }
    }

    fn side_by_side(&mut self, table: &Table, widths: &[usize]) {
        let heads: Vec<Cell> = table.columns.iter().map(|column| Cell::plain(column.head)).collect();
        for row in std::iter::once(&heads).chain(&table.rows) {
            let first = row.first().map_or("", |cell| cell.text.as_str());
            let folded = textwrap::wrap(first, Options::new(widths[0]).subsequent_indent("  "));
            let mut line = String::new();
            for (place, ((cell, column), width)) in row.iter().zip(&table.columns).zip(widths).enumerate() {
                let text = if place == 0 { folded.first().map_or("", |part| part.as_ref()) } else { &cell.text };
                let room = " ".repeat(width - text.width());
                let shown = cell.tint.map_or_else(|| text.to_owned(), |tint| self.tint(tint, text));
                let padded = if column.right { format!("{room}{shown}") } else { format!("{shown}{room}") };
                line.push_str(&padded);
                line.push_str("  ");
            }
            self.text.push_str(line.trim_end());
            self.text.push('\n');
            for part in folded.iter().skip(1) {
                self.text.push_str(&format!("{part}\n"));
            }
        }
    }

    fn blocks(&mut self, table: &Table) {
        for row in &table.rows {
            let mut cells = row.iter().zip(&table.columns);
            if let Some((cell, _)) = cells.next() {
                let strong = self.tint(Tint::Strong, &cell.text);
                self.text.push_str(&format!("{strong}\n"));
            }
            for (cell, column) in cells.filter(|(cell, _)| !cell.text.is_empty()) {
                self.item("  ", &format!("{}: {}", column.head, cell.text));
            }
        }
    }
}

/// One cell.
#[derive(Clone, Debug)]
pub struct Cell {
    text: String,
    tint: Option<Tint>,
}

impl Cell {
    /// Without a tint.
    pub fn plain(text: impl Into<String>) -> Self {
        Self { text: text.into(), tint: None }
    }

    /// With one.
    pub fn tinted(tint: Tint, text: impl Into<String>) -> Self {
        Self { text: text.into(), tint: Some(tint) }
    }
}

/// A column's head and side.
struct Column {
    head: &'static str,
    right: bool,
}

/// A table being filled.
pub struct Table {
    columns: Vec<Column>,
    rows: Vec<Vec<Cell>>,
}

impl Table {
    /// Columns by their heads; those that end in `>` are set to the right.
    pub fn new(heads: &[&'static str]) -> Self {
        let column = |head: &&'static str| Column { head: head.trim_end_matches('>'), right: head.ends_with('>') };
        Self { columns: heads.iter().map(column).collect(), rows: Vec::new() }
    }

    /// Adds a row.
    pub fn row(&mut self, cells: Vec<Cell>) {
        self.rows.push(cells);
    }

    fn widths(&self) -> Vec<usize> {
        let mut widths: Vec<usize> = self.columns.iter().map(|column| column.head.width()).collect();
        for row in &self.rows {
            for (cell, width) in row.iter().zip(&mut widths) {
                *width = (*width).max(cell.text.width());
            }
        }
        widths
    }
}
