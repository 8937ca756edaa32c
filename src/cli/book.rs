//! `headlap rules book`: the manual of the rules, made from the rules themselves.

use std::path::Path;

use crate::cli::failure::Failure;
use crate::cli::print;
use crate::cli::task::today;
use crate::output::book::{self, Example};
use crate::output::by_topic;
use crate::output::drawing::{self, Mark, SectionLine, Subject};
use crate::project;
use crate::review;
use crate::rules::{Pack, Rule, whole_text};

/// Pages and drawings into a folder, or all pages one after the other on standard output, without drawings.
pub fn run(pack: &Pack, folder: Option<&Path>) -> Result<(), Failure> {
    let Some(folder) = folder else {
        return print::out(|out| {
            for (topic, rules) in by_topic(pack) {
                let alone =
                    |rule| (rule, examples(pack, rule, false).into_iter().map(|(example, _)| example).collect());
                book::topic_page(pack, topic, &rules.into_iter().map(alone).collect::<Vec<_>>(), out)?;
            }
            book::text_page(out)
        });
    };
    project::folder(&folder.join(PICTURES))?;
    let write = |name: &str, text: &[u8]| project::write_whole(&folder.join(name), |out| out.write_all(text));
    for (topic, rules) in by_topic(pack) {
        let mut drawn = Vec::new();
        for rule in rules {
            let mut with_pictures = Vec::new();
            for (mut example, svg) in examples(pack, rule, true) {
                if let Some(svg) = svg {
                    let name = format!("{PICTURES}/{}-{}.svg", rule.id, example.heading.to_lowercase());
                    write(&name, svg.as_bytes())?;
                    example.picture = Some(name);
                }
                with_pictures.push(example);
            }
            drawn.push((rule, with_pictures));
        }
        let mut page = Vec::new();
        book::topic_page(pack, topic, &drawn, &mut page)?;
        write(&format!("{topic}.md"), &page)?;
    }
    let [mut index, mut text, mut fields, mut sources, mut words] = [const { Vec::new() }; 5];
    book::index_page(pack, &mut index)?;
    book::text_page(&mut text)?;
    book::fields_page(pack, &mut fields)?;
    book::sources_page(pack, &mut sources)?;
    book::words_page(pack, &mut words)?;
    let pages = [("index", index), ("text", text), ("fields", fields), ("sources", sources), ("words", words)];
    for (name, page) in pages {
        write(&format!("{name}.md"), &page)?;
    }
    Ok(())
}

/// The folder of the drawings, beside the pages.
const PICTURES: &str = "pictures";

/// A failing example, the same after the cure, and a passing one, each with its drawing if it is wanted.
fn examples(pack: &Pack, rule: &Rule, draw: bool) -> Vec<(Example, Option<String>)> {
    let all = pack.examples(rule);
    let fails = all.iter().filter(|example| example.fails);
    let failing = fails.clone().find(|example| example.cured.is_some()).or_else(|| fails.clone().next());
    let passing = all.iter().find(|example| !example.fails);
    let cured = failing.and_then(|example| example.cured.as_ref()).map(|text| ("Cured", text));
    let texts = failing.map(|example| ("Fails", &example.text)).into_iter().chain(cured);
    let texts = texts.chain(passing.map(|example| ("Passes", &example.text)));
    texts.map(|(heading, text)| shown(pack, rule, (heading, &text.text), &whole_text(text), draw)).collect()
}

fn shown(
    pack: &Pack,
    rule: &Rule,
    (heading, text): (&'static str, &str),
    whole: &str,
    draw: bool,
) -> (Example, Option<String>) {
    let run = review::review_alone(pack, whole, today(), draw);
    let own: Vec<_> = run.report.findings.iter().filter(|finding| finding.rule == rule.id).collect();
    let details: Vec<_> = run.checked.iter().flat_map(|checked| &checked.facts.details).collect();
    let about = details.iter().find(|facts| own.iter().any(|finding| drawing::belongs(&facts.detail, finding)));
    let drawn = about.or(details.first()).filter(|facts| drawing::drawable(facts)).map(|facts| {
        let marks = own.iter().enumerate().map(|(at, finding)| Mark::new(at + 1, finding));
        let marks: Vec<Mark> = marks.filter(|mark| drawing::belongs(&facts.detail, mark.finding)).collect();
        let subject = Subject::new(facts, &marks);
        let scene = SectionLine::principal(&subject).map(|line| drawing::section(&subject, &line));
        drawing::svg(&scene.unwrap_or_else(|| drawing::elevation(&subject)))
    });
    let finding = own.first().map(|finding| (**finding).clone());
    (Example { heading, text: text.trim_matches('\n').to_owned(), finding, picture: None }, drawn)
}
