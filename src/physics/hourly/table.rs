//! Finds the delimiter, the header row and the columns of a table of hours.

use crate::physics::hourly::time::{self, BadTime, Hour, Slashes};
use crate::physics::hourly::{TableError, Trouble};

/// The rows of a table, with temperatures in C and humidities as written.
pub struct Table {
    pub rows: Vec<HourRow>,
    /// Rows that could not be used. Their errors are reported, and they are not gaps in the year.
    pub errors: Vec<TableError>,
}

pub struct HourRow {
    pub line: usize,
    pub hour: Hour,
    pub temperature: f64,
    pub humidity: f64,
}

struct Columns {
    time: TimeColumns,
    temperature: NamedColumn,
    to_celsius: fn(f64) -> f64,
    humidity: NamedColumn,
}

enum TimeColumns {
    Stamp(NamedColumn),
    DateAndClock(NamedColumn, NamedColumn),
    Parts { month: NamedColumn, day: NamedColumn, hour: NamedColumn },
}

struct NamedColumn {
    at: usize,
    name: String,
}

const TEMPERATURE: &[&str] = &[
    "temperature",
    "air temperature",
    "temp",
    "temp air",
    "t air",
    "air temp",
    "temperature 2m",
    "temperature air",
    "t2m",
    "t",
    "ta",
    "tdb",
    "dry bulb",
    "dry bulb temperature",
    "drybulb",
    "outdoor temperature",
    "external temperature",
    "te",
];
const HUMIDITY: &[&str] = &[
    "relative humidity",
    "rel humidity",
    "relative hum",
    "relhum",
    "rel hum",
    "humidity",
    "humidity relative",
    "relative humidity 2m",
    "rh",
    "rh2m",
    "rhum",
    "r h",
    "outdoor humidity",
    "outdoor relative humidity",
];
const STAMP: &[&str] =
    &["time", "datetime", "date time", "timestamp", "date and time", "utc time", "local time", "time utc"];
const CLOCK: &[&str] = &["time", "hour", "clock", "time of day"];

/// The header is looked for in this many lines from the top.
const HEADER_WITHIN: usize = 100;

pub fn read(text: &str) -> Result<Table, Vec<TableError>> {
    let lines: Vec<&str> = text.trim_start_matches('\u{feff}').lines().collect();
    if lines.iter().all(|l| l.trim().is_empty()) {
        return Err(vec![TableError { line: None, trouble: Trouble::Empty }]);
    }
    let (header, delimiter) = header(&lines).ok_or(vec![TableError { line: None, trouble: Trouble::NoHeader }])?;
    let names: Vec<String> = fields(lines[header], delimiter).into_iter().map(|f| f.trim().to_owned()).collect();
    let columns = columns(&names).map_err(|trouble| {
        trouble.into_iter().map(|t| TableError { line: Some(header + 1), trouble: t }).collect::<Vec<_>>()
    })?;

    let body = lines[header + 1..].iter().enumerate().map(|(i, line)| (header + 2 + i, fields(line, delimiter)));
    // Blank lines are skipped; a line with a single field is a title or a legend.
    let body: Vec<(usize, Vec<&str>)> =
        body.filter(|(_, f)| f.len() > 1 && f.iter().any(|f| !f.trim().is_empty())).collect();
    let slashes = match &columns.time {
        TimeColumns::Stamp(c) | TimeColumns::DateAndClock(c, _)
            if body.iter().any(|(_, f)| f.get(c.at).is_some_and(|d| time::starts_with_day(d))) =>
        {
            Slashes::DayFirst
        }
        _ => Slashes::MonthFirst,
    };
    let mut table = Table { rows: Vec::with_capacity(body.len()), errors: Vec::new() };
    for (line, fields) in body {
        match row(line, &fields, &columns, slashes, delimiter) {
            Ok(row) => table.rows.push(row),
            Err(trouble) => table.errors.push(TableError { line: Some(line), trouble }),
        }
    }
    // Below the last row there may be a legend, which may contain commas.
    let end = table.rows.last().map_or(usize::MAX, |r| r.line);
    table.errors.retain(|e| e.line < Some(end) || !matches!(e.trouble, Trouble::ShortRow { .. }));
    Ok(table)
}

fn row(line: usize, fields: &[&str], columns: &Columns, slashes: Slashes, delimiter: char) -> Result<HourRow, Trouble> {
    let text = |column: &NamedColumn| {
        fields.get(column.at).map(|t| t.trim()).ok_or_else(|| Trouble::ShortRow { column: column.name.clone() })
    };
    for column in [&columns.temperature, &columns.humidity] {
        text(column)?;
    }
    let number = |column: &NamedColumn| {
        let text = text(column)?;
        // Where semicolons separate the columns, a comma may be the decimal point.
        let point = if delimiter == ';' { text.replace(',', ".") } else { text.to_owned() };
        let unreadable = || Trouble::Unreadable { column: column.name.clone(), text: text.to_owned() };
        point.parse::<f64>().ok().filter(|n| n.is_finite()).ok_or_else(unreadable)
    };
    let bad = |column: &NamedColumn, text: &str, bad: BadTime| match bad {
        BadTime::Unreadable => Trouble::Unreadable { column: column.name.clone(), text: text.to_owned() },
        BadTime::NoSuchTime => Trouble::NoSuchTime { text: text.to_owned() },
    };
    let hour = match &columns.time {
        TimeColumns::Stamp(stamp) => {
            let at = text(stamp)?;
            time::parse(at, None, slashes).map_err(|e| bad(stamp, at, e))?
        }
        TimeColumns::DateAndClock(date, clock) => {
            let (date_text, clock_text) = (text(date)?, text(clock)?);
            let at = format!("{date_text} {clock_text}");
            time::parse(date_text, Some(clock_text), slashes).map_err(|e| bad(date, &at, e))?
        }
        TimeColumns::Parts { month, day, hour } => {
            let part = |column: &NamedColumn| {
                let text = text(column)?;
                time::hour_of(text).ok_or_else(|| bad(column, text, BadTime::Unreadable))
            };
            let (m, d, h) = (part(month)?, part(day)?, part(hour)?);
            Hour::new(m, d, h).map_err(|e| bad(hour, &format!("month {m}, day {d}, hour {h}"), e))?
        }
    };
    let temperature = (columns.to_celsius)(number(&columns.temperature)?);
    if !(-90.0..=60.0).contains(&temperature) {
        return Err(Trouble::Temperature { celsius: temperature });
    }
    let humidity = number(&columns.humidity)?;
    if !(0.0..=100.0).contains(&humidity) {
        return Err(Trouble::Humidity { written: humidity });
    }
    Ok(HourRow { line, hour, temperature, humidity })
}

/// The line that names the most of the wanted columns, and its delimiter.
fn header(lines: &[&str]) -> Option<(usize, char)> {
    let wanted = |line: &str, delimiter: char| {
        let names: Vec<String> = fields(line, delimiter).into_iter().map(plain).collect();
        let has = |words: &[&str]| names.iter().any(|n| words.contains(&n.as_str()));
        let known = [has(TEMPERATURE), has(HUMIDITY), has(STAMP) || has(&["date", "hour"])];
        if names.len() < 2 { 0 } else { known.into_iter().filter(|k| *k).count() }
    };
    let candidates = lines.iter().take(HEADER_WITHIN).enumerate();
    let candidates = candidates.flat_map(|(i, line)| [',', ';', '\t'].map(|d| (wanted(line, d), i, d)));
    // The first of the best: `max_by_key` would take the last.
    let best = candidates.fold((0, 0, ','), |best, next| if next.0 > best.0 { next } else { best });
    (best.0 > 0).then_some((best.1, best.2))
}

fn columns(names: &[String]) -> Result<Columns, Vec<Trouble>> {
    let plain_names: Vec<String> = names.iter().map(|n| plain(n)).collect();
    let find = |wanted: &'static str, words: &[&str]| -> Result<NamedColumn, Trouble> {
        let mut found = plain_names.iter().enumerate().filter(|(_, n)| words.contains(&n.as_str())).map(|(i, _)| i);
        match (found.next(), found.next()) {
            (Some(at), None) => Ok(NamedColumn { at, name: names[at].clone() }),
            (Some(a), Some(b)) => Err(Trouble::TwoColumns { wanted, columns: [names[a].clone(), names[b].clone()] }),
            _ => Err(Trouble::MissingColumn { wanted, columns: names.to_vec() }),
        }
    };
    let time = match (find("date", &["date"]), find("time", CLOCK), find("time", STAMP)) {
        (Ok(date), Ok(clock), _) => Ok(TimeColumns::DateAndClock(date, clock)),
        (Ok(stamp), _, _) | (_, _, Ok(stamp)) => Ok(TimeColumns::Stamp(stamp)),
        (_, _, Err(error)) => match (find("month", &["month"]), find("day", &["day"]), find("hour", &["hour"])) {
            (Ok(month), Ok(day), Ok(hour)) => Ok(TimeColumns::Parts { month, day, hour }),
            _ => Err(error),
        },
    };
    match (time, find("temperature", TEMPERATURE), find("relative humidity", HUMIDITY)) {
        (Ok(time), Ok(temperature), Ok(humidity)) => {
            Ok(Columns { time, to_celsius: to_celsius(&temperature.name), temperature, humidity })
        }
        (time, temperature, humidity) => {
            Err([time.err(), temperature.err(), humidity.err()].into_iter().flatten().collect())
        }
    }
}

/// The unit, which the name of the column has in brackets or at its end.
fn to_celsius(name: &str) -> fn(f64) -> f64 {
    let unit: String = name.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    match unit.split_whitespace().last() {
        Some("f" | "degf" | "fahrenheit") => |t| (t - 32.0) / 1.8,
        Some("k" | "kelvin") => |t| t - 273.15,
        _ => |t| t,
    }
}

/// A column's name without units in brackets, capitals and signs.
fn plain(name: &str) -> String {
    let name = name.trim().trim_matches('"').to_lowercase();
    let name = name.split(['(', '[']).next().unwrap_or_default();
    let name: String = name.chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    let mut words: Vec<&str> = name.split_whitespace().collect();
    const UNITS: [&str; 9] = ["c", "f", "k", "degc", "degf", "celsius", "fahrenheit", "kelvin", "percent"];
    if words.len() > 1 && words.last().is_some_and(|w| UNITS.contains(w)) {
        words.pop();
    }
    words.join(" ")
}

/// The fields of a row. Quotes around a field are taken off; a delimiter between quotes does not separate fields.
fn fields(line: &str, delimiter: char) -> Vec<&str> {
    let mut fields = Vec::new();
    let (mut start, mut quoted) = (0, false);
    for (at, c) in line.char_indices() {
        if c == '"' {
            quoted = !quoted;
        } else if c == delimiter && !quoted {
            fields.push(&line[start..at]);
            start = at + c.len_utf8();
        }
    }
    fields.push(&line[start..]);
    fields.into_iter().map(|f| f.trim().trim_matches('"')).collect()
}
