//! What a library lets pass, and until when: waivers, adjusted rules, known findings.

use std::io::{self, Write};

use jiff::civil::Date;
use serde::Serialize;

use crate::output::json::FORMAT;
use crate::output::words::counted;
use crate::output::{Look, columns, escaped, visible};
use crate::text::set_off;

/// All of them, in the order of their places.
#[derive(Serialize)]
pub struct Exceptions {
    pub waivers: Vec<WaiverLine>,
    pub adjustments: Vec<AdjustmentLine>,
    pub known: Vec<KnownLine>,
}

#[derive(Serialize)]
pub struct WaiverLine {
    pub file: String,
    pub line: usize,
    pub item: String,
    pub rule: String,
    pub on: Option<String>,
    pub because: String,
    pub by: Option<String>,
    #[serde(serialize_with = "as_text")]
    pub until: Option<Date>,
    /// 0 on the last day, less than that when it is over.
    pub days_left: Option<i32>,
    /// How many findings it covers.
    pub covers: usize,
}

#[derive(Serialize)]
pub struct AdjustmentLine {
    pub file: String,
    pub line: usize,
    pub rule: String,
    /// Below this folder alone.
    pub folder: Option<String>,
    pub change: String,
    pub off: bool,
    pub because: String,
}

#[derive(Serialize)]
pub struct KnownLine {
    pub file: String,
    pub item: Option<String>,
    pub rule: String,
    pub message: String,
    pub because: Option<String>,
    pub by: Option<String>,
}

/// A table of each kind, for people.
///
/// # Errors
/// Those of `out`.
pub fn exceptions(all: &Exceptions, look: Look, out: &mut dyn Write) -> io::Result<()> {
    let text = |value: &Option<String>| value.clone().unwrap_or_default();
    let waivers = all.waivers.iter().map(|w| {
        let on = w.on.as_ref().map_or(String::new(), |on| format!(" on {}", set_off(on)));
        let covers = if w.covers == 0 { "covers nothing".to_owned() } else { counted(w.covers, "finding") };
        let place = format!("{}:{}", w.file, w.line);
        vec![place, w.item.clone(), format!("{}{on}", w.rule), term(w), covers, who(&w.because, &w.by)]
    });
    table("Waivers", "No waivers.", waivers.collect(), look, out)?;
    let adjustments = all.adjustments.iter().map(|a| {
        let folder = a.folder.as_ref().map_or("everywhere".to_owned(), |folder| format!("in {folder}"));
        vec![
            format!("{}:{}", a.file, a.line),
            a.rule.clone(),
            folder,
            a.change.clone(),
            if a.because.is_empty() { String::new() } else { who(&a.because, &None) },
        ]
    });
    table("Adjusted rules", "No adjusted rules.", adjustments.collect(), look, out)?;
    let known = all.known.iter().map(|k| {
        let why = k.because.as_ref().map_or(String::new(), |because| who(because, &k.by));
        vec![k.file.clone(), text(&k.item), k.rule.clone(), k.message.clone(), why]
    });
    table("Known findings", "No known findings.", known.collect(), look, out)
}

/// The same for programs.
///
/// # Errors
/// Those of `out`.
pub fn exceptions_json(all: &Exceptions, out: &mut dyn Write) -> io::Result<()> {
    #[derive(Serialize)]
    struct Whole<'a> {
        format: u32,
        #[serde(flatten)]
        all: &'a Exceptions,
    }
    escaped::pretty(&Whole { format: FORMAT, all }, out)?;
    writeln!(out)
}

fn table(title: &str, none: &str, rows: Vec<Vec<String>>, look: Look, out: &mut dyn Write) -> io::Result<()> {
    if rows.is_empty() {
        return writeln!(out, "{none}\n");
    }
    writeln!(out, "{title}: {}{}", rows.len(), if look.narrate { "." } else { "" })?;
    columns(&rows, "  ", look, out)?;
    writeln!(out)
}

/// `until 2026-12-31, 34 days left`
fn term(waiver: &WaiverLine) -> String {
    match (waiver.until, waiver.days_left) {
        (Some(until), Some(0)) => format!("until {until}, the last day"),
        (Some(until), Some(left)) if left < 0 => format!("ended on {until}"),
        (Some(until), Some(left)) => format!("until {until}, {} left", counted(left as usize, "day")),
        _ => "no end".to_owned(),
    }
}

fn who(because: &str, by: &Option<String>) -> String {
    let by = by.as_ref().map_or(String::new(), |by| format!(" ({by})"));
    visible(&format!("\"{because}\"{by}")).into_owned()
}

fn as_text<S: serde::Serializer>(date: &Option<Date>, serializer: S) -> Result<S::Ok, S::Error> {
    date.map(|date| date.to_string()).serialize(serializer)
}
