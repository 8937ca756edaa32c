//! What can be wrong with a table of hours.

use std::fmt;

/// Something wrong, at a line counted from 1; none if it is about the table as a whole.
#[derive(Clone, Debug, PartialEq)]
pub struct TableError {
    pub line: Option<usize>,
    pub trouble: Trouble,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Trouble {
    /// The table is empty.
    Empty,
    /// No line looks like a header. Holds the columns that a header would have to name.
    NoHeader,
    /// The header lacks a column of this meaning. Holds its columns.
    MissingColumn { wanted: &'static str, columns: Vec<String> },
    /// Two columns could be meant.
    TwoColumns { wanted: &'static str, columns: [String; 2] },
    /// A row ends before the column.
    ShortRow { column: String },
    /// A number or time that cannot be read.
    Unreadable { column: String, text: String },
    /// A date such as 30 February, or hour 25.
    NoSuchTime { text: String },
    /// A temperature that no weather has, C.
    Temperature { celsius: f64 },
    /// Relative humidity below 0 or above 100 %, as written.
    Humidity { written: f64 },
    /// A fraction in a column of percentages.
    Fraction { written: f64 },
    /// Hours are missing between this row and the one before.
    Gap { hours: usize },
    /// The row has the same hour as the one before, or an earlier one.
    Backward,
    /// Fewer rows than a year has hours, or not a whole number of years.
    NotWholeYears { rows: usize },
    /// There are too many errors, and the rest are not listed.
    Many { more: usize },
}

impl fmt::Display for TableError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(line) = self.line {
            write!(f, "line {line}: ")?;
        }
        match &self.trouble {
            Trouble::Empty => write!(f, "the table is empty"),
            Trouble::NoHeader => write!(
                f,
                "no line names the columns; one has to name time, temperature and relative humidity, such as \
                 `time,temperature,relative humidity`"
            ),
            Trouble::MissingColumn { wanted, columns } => {
                write!(f, "there is no column for {wanted}; the columns are {}", quoted(columns))
            }
            Trouble::TwoColumns { wanted, columns } => {
                write!(f, "two columns could be {wanted}: {}; rename one", quoted(columns))
            }
            Trouble::ShortRow { column } => write!(f, "the row ends before column `{column}`"),
            Trouble::Unreadable { column, text } if text.is_empty() => write!(f, "`{column}` is empty"),
            Trouble::Unreadable { column, text } => write!(f, "`{text}` in column `{column}` cannot be read"),
            Trouble::NoSuchTime { text } => write!(f, "`{text}` is not an hour of the calendar"),
            Trouble::Temperature { celsius } if (180.0..=340.0).contains(celsius) => {
                write!(
                    f,
                    "{celsius:.1} C is not an air temperature; if these are kelvin, name the column `temperature (K)`"
                )
            }
            Trouble::Temperature { celsius } => {
                write!(
                    f,
                    "{celsius:.1} C is not an air temperature; does it mark a missing value, or have another unit?"
                )
            }
            Trouble::Humidity { written } => write!(f, "a relative humidity of {written} is outside 0 to 100 %"),
            Trouble::Fraction { written } => {
                write!(f, "{written} looks like a fraction, while other rows have percentages; use one of the two")
            }
            Trouble::Gap { hours: 1 } => write!(f, "an hour is missing before this row"),
            Trouble::Gap { hours } => write!(f, "{hours} hours are missing before this row"),
            Trouble::Backward => write!(f, "this hour is not later than the hour in the row before"),
            Trouble::NotWholeYears { rows } => {
                write!(f, "{rows} rows are not a whole number of years; a year has 8760 or 8784 hours")
            }
            Trouble::Many { more } => write!(f, "and {more} more errors"),
        }
    }
}

fn quoted(columns: &[String]) -> String {
    columns.iter().map(|c| format!("`{c}`")).collect::<Vec<_>>().join(", ")
}
