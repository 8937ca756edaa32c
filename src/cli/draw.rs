//! `headlap draw`: drawings of details and assemblies.

use std::collections::HashSet;
use std::path::Path;
use std::process::ExitCode;

use siphasher::sip::SipHasher13;

use crate::cli::args::{Draw, Page};
use crate::cli::failure::Failure;
use crate::cli::task::{Task, today};
use crate::cli::{Done, Message, print};
use crate::facts::nanometres;
use crate::output::drawing::{self, IndexEntry, Mark, Names, Paper, Scene, SectionLine, Subject, Title};
use crate::project;
use crate::quantity::{Dimension, parse_quantity};

pub fn run(args: Draw, page: &Page) -> Done {
    let at = args.at.as_deref().map(place).transpose()?;
    let task = Task::of(&args.paths)?;
    let run = task.run(true);
    print::named(&args.only, run.names())?;
    project::folder(&args.out)?;
    let wanted = |name: &str| args.only.is_empty() || args.only.iter().any(|only| only == name);
    let mut files = DrawingFiles { folder: &args.out, taken: HashSet::new(), failed: false };
    let paper = args.sheet.as_deref().and_then(Paper::from_word);
    let project = run.checked.iter().flat_map(|c| &c.sets).find_map(|set| set.title.as_deref()).unwrap_or("");
    let title = Title { project, date: today().to_string() };
    let mut sheets: Vec<Sheet> = Vec::new();
    let details =
        run.checked.iter().flat_map(|checked| checked.facts.details.iter().map(move |facts| (checked, facts)));
    for (checked, facts) in details {
        let detail = &facts.detail;
        if !wanted(&detail.name) {
            continue;
        }
        if !drawing::drawable(facts) {
            print::aside(&Message::TooManyEdges { detail: &detail.name }.words());
            continue;
        }
        // A finding has one number wherever it is shown: its place in the report.
        let numbered = run.report.findings.iter().enumerate().map(|(n, finding)| Mark::new(n + 1, finding));
        let marks: Vec<Mark> = numbered.filter(|mark| drawing::belongs(detail, mark.finding)).collect();
        let subject = Subject::new(facts, &marks);
        let line = match at {
            Some(at) => SectionLine::through(&subject, at),
            None => SectionLine::principal(&subject),
        };
        if args.format == "dxf" {
            let names = layers(&task, &checked.source.name);
            files.write_text(&detail.name, "detail.dxf", &drawing::dxf(subject, line.as_ref(), &names));
            continue;
        }
        if let Some(paper) = paper {
            let scene = drawing::sheet(&subject, line.as_ref(), paper, &title);
            files.write(&detail.name, "sheet", &scene);
            sheets.push(Sheet::new(&subject, scene));
            continue;
        }
        if let Some(line) = line {
            files.write(&detail.name, "section", &drawing::section(&subject, &line));
        }
        files.write(&detail.name, "face", &drawing::elevation(&subject));
    }
    if let Some(paper) = paper.filter(|_| !sheets.is_empty()) {
        sheets.sort_by(|a, b| a.key.cmp(&b.key));
        let index = drawing::index(&sheets.iter().map(|s| &s.entry).collect::<Vec<_>>(), paper, &title);
        let mut pages = vec![("Index".to_owned(), index)];
        pages.extend(sheets.into_iter().map(|sheet| (sheet.name, sheet.scene)));
        let bytes = drawing::pdf(&pages, if project.is_empty() { "Details" } else { project });
        project::write_whole(&args.out.join("sheets.pdf"), |out| out.write_all(&bytes))?;
        return Ok(files.code(ExitCode::SUCCESS));
    }
    for facts in run.checked.iter().flat_map(|checked| &checked.facts.assemblies) {
        if wanted(&facts.assembly.name) {
            if args.format != "dxf" {
                files.write(&facts.assembly.name, "assembly", &drawing::assembly(facts));
            } else if !args.only.is_empty() {
                print::aside(&Message::AssemblyAsDxf { assembly: &facts.assembly.name }.words());
            }
        }
    }
    Ok(files.code(print::unread(&run.report, Message::Incomplete, page)))
}

/// What the library of a file calls the layers of drawings.
fn layers(task: &Task, file: &str) -> Names {
    let part = task.parts.iter().find(|part| part.walked.files.iter().any(|found| *found.name == *file));
    let config = part.and_then(|part| part.project.config.as_ref());
    Names(config.map(|config| config.layers.clone()).unwrap_or_default())
}

/// The sheet of one detail, in the set.
struct Sheet {
    /// Sheet before detail, numbers by value: 2/A-501 comes before 10/A-501.
    key: (String, u32, String),
    name: String,
    entry: IndexEntry,
    scene: Scene,
}

impl Sheet {
    fn new(subject: &Subject, scene: Scene) -> Sheet {
        let detail = subject.detail;
        let written = detail.sheet.as_deref().unwrap_or("~");
        let (number, sheet) = written.split_once('/').unwrap_or(("", written));
        Sheet {
            key: (sheet.to_owned(), number.parse().unwrap_or(u32::MAX), detail.name.to_string()),
            name: scene.title.clone(),
            entry: IndexEntry::new(subject),
            scene,
        }
    }
}

/// A place on the face in nanometres.
fn place(text: &str) -> Result<i64, Failure> {
    let length = parse_quantity(text).ok().filter(|q| q.dimension() == Dimension::Length);
    let length = length.ok_or(Message::NotALength { typed: text })?;
    Ok(nanometres(length))
}

struct DrawingFiles<'a> {
    folder: &'a Path,
    /// Names in lower case, since some file systems do not distinguish A from a.
    taken: HashSet<String>,
    /// Some drawing could not be written.
    failed: bool,
}

impl DrawingFiles<'_> {
    /// Two details of one name in unrelated files get a number each. One that cannot be written stops no other.
    fn write(&mut self, item: &str, view: &str, scene: &Scene) {
        self.write_text(item, &format!("{view}.svg"), &drawing::svg(scene));
    }

    fn write_text(&mut self, item: &str, view: &str, text: &str) {
        let item = file_name(item);
        let mut name = format!("{item}-{view}");
        let mut count = 1;
        while !self.taken.insert(name.to_lowercase()) {
            count += 1;
            name = format!("{item}-{count}-{view}");
        }
        let path = self.folder.join(name);
        if let Err(why) = project::write_whole(&path, |out| out.write_all(text.as_bytes())) {
            print::aside(&why);
            self.failed = true;
        }
    }

    /// The status of the command, with what could not be written.
    fn code(&self, otherwise: ExitCode) -> ExitCode {
        if self.failed { ExitCode::from(2) } else { otherwise }
    }
}

/// Most file systems hold names of 255 bytes; what is added to this takes up to 30.
const LONGEST: usize = 200;

/// A name of a detail as the name of a file: it never leads to another folder, and a long one is cut and ends with a fingerprint.
fn file_name(item: &str) -> String {
    let plain = |letter: char| if letter.is_alphanumeric() || "-_.".contains(letter) { letter } else { '-' };
    let name: String = item.chars().map(plain).collect();
    let name = name.trim_start_matches('.');
    // Some systems keep such names for devices, whatever stands behind the first dot.
    let stem = name.split('.').next().unwrap_or("").to_ascii_lowercase();
    let device = matches!(&*stem, "con" | "prn" | "aux" | "nul")
        || stem.len() == 4
            && (stem.starts_with("com") || stem.starts_with("lpt"))
            && stem.as_bytes()[3].is_ascii_digit();
    let name = if device { &format!("-{name}") } else { name };
    if name.len() <= LONGEST && name == item {
        return name.to_owned();
    }
    let print = SipHasher13::new().hash(item.as_bytes());
    let cut = name.char_indices().map(|(at, letter)| at + letter.len_utf8()).take_while(|end| *end <= LONGEST).last();
    format!("{}-{:08x}", &name[..cut.unwrap_or(0)], print as u32)
}

#[cfg(test)]
mod tests {
    use super::file_name;

    #[test]
    fn names_of_details_never_lead_elsewhere() {
        assert_eq!(file_name("O2-W1.a"), "O2-W1.a");
        for hostile in ["../../x", "a/b", "a\\b", "..", ".", "C:x", "a\0b", &"w".repeat(300), &"\u{e4}".repeat(200)] {
            let name = file_name(hostile);
            assert!(name.len() <= 210 && !name.starts_with('.') && !name.contains(['/', '\\', ':', '\0']), "{name}");
        }
        assert_ne!(file_name(&"w".repeat(300)), file_name(&"w".repeat(301)));
        assert_ne!(file_name("a/b"), file_name("a:b"));
        assert!(file_name("NUL.a").starts_with('-') && file_name("com1").starts_with('-'));
    }
}
