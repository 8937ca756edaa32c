//! `headlap draw`: drawings of details and assemblies.

use std::collections::HashSet;
use std::path::Path;

use siphasher::sip::SipHasher13;

use crate::cli::args::{Draw, Page};
use crate::cli::failure::Failure;
use crate::cli::task::Task;
use crate::cli::{Done, print};
use crate::output::drawing::{self, Line, Mark, Scene, Subject};
use crate::project;
use crate::quantity::{Dimension, parse_quantity};

pub fn run(args: Draw, page: &Page) -> Done {
    let at = args.at.as_deref().map(place).transpose()?;
    let run = Task::of(&args.paths)?.run(true);
    print::named(&args.only, run.names())?;
    project::folder(&args.out)?;
    let wanted = |name: &str| args.only.is_empty() || args.only.iter().any(|only| only == name);
    let mut files = Files { folder: &args.out, taken: HashSet::new() };
    for facts in run.checked.iter().flat_map(|checked| &checked.facts.details) {
        let detail = &facts.detail;
        if !wanted(&detail.name) {
            continue;
        }
        if !drawing::drawable(facts) {
            print::aside(&format!("{} has too many edges to be drawn", detail.name));
            continue;
        }
        let found = run.report.findings.iter().filter(|finding| drawing::belongs(detail, finding));
        let marks: Vec<Mark> = found.enumerate().map(|(n, finding)| Mark { number: n + 1, finding }).collect();
        let subject = Subject::new(facts, &marks);
        let line = match at {
            Some(at) => Line::through(&subject, at),
            None => Line::telling(&subject),
        };
        if let Some(line) = line {
            files.write(&detail.name, "section", &drawing::section(&subject, &line))?;
        }
        files.write(&detail.name, "face", &drawing::front(&subject))?;
    }
    for facts in run.checked.iter().flat_map(|checked| &checked.facts.assemblies) {
        if wanted(&facts.assembly.name) {
            files.write(&facts.assembly.name, "assembly", &drawing::assembly(facts))?;
        }
    }
    Ok(print::unread(&run.report, print::NOT_WHOLE, page))
}

/// A place on the face in nanometres.
fn place(text: &str) -> Result<i64, Failure> {
    let length = parse_quantity(text).ok().filter(|q| q.dimension() == Dimension::Length);
    let length = length.ok_or_else(|| format!("--at takes a length such as \"120 mm\", not \"{text}\""))?;
    Ok((length.si * 1e9).round() as i64)
}

struct Files<'a> {
    folder: &'a Path,
    /// Names in lower case, since some file systems do not tell A from a.
    taken: HashSet<String>,
}

impl Files<'_> {
    /// Two details of one name in unrelated files get a number each.
    fn write(&mut self, item: &str, view: &str, scene: &Scene) -> Result<(), Failure> {
        let item = file_name(item);
        let mut name = format!("{item}-{view}");
        let mut count = 1;
        while !self.taken.insert(name.to_lowercase()) {
            count += 1;
            name = format!("{item}-{count}-{view}");
        }
        let svg = drawing::svg(scene);
        project::write_whole(&self.folder.join(format!("{name}.svg")), |out| out.write_all(svg.as_bytes()))?;
        Ok(())
    }
}

/// Most file systems hold names of 255 bytes; what is added to this takes up to 30.
const LONGEST: usize = 200;

/// A name of a detail as the name of a file: it never leads anywhere else, and a long one is cut and told apart by a print.
fn file_name(item: &str) -> String {
    let plain = |letter: char| if letter.is_alphanumeric() || "-_.".contains(letter) { letter } else { '-' };
    let name: String = item.chars().map(plain).collect();
    let name = name.trim_start_matches('.');
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
    }
}
