//! The manual of the rules as pages of Markdown, one for each topic.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, Write};

use crate::facts::vocabulary::Kind;
use crate::finding::{Finding, Known, PAGES};
use crate::output::manual::{by_topic, one_line, tables_of};
use crate::output::words;
use crate::rules::{Pack, Rule, Table, fields_of};

/// An example of a rule, as it is shown.
pub struct Example {
    /// `Fails`, `Cured` or `Passes`.
    pub heading: &'static str,
    pub text: String,
    /// What the rule says of it.
    pub finding: Option<Finding>,
    /// The path of its drawing.
    pub picture: Option<String>,
}

/// The rules of one topic. The id of a rule is its heading, so that a link can lead to it.
///
/// # Errors
/// Those of `out`.
pub fn topic_page(pack: &Pack, topic: &str, rules: &[(&Rule, Vec<Example>)], out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "# {}\n", words::capital(&topic.replace('-', " ")))?;
    for (rule, _) in rules {
        writeln!(out, "- [{}](#{}): {} ({})", rule.id, rule.id, plain(&rule.title), level(rule))?;
    }
    for (rule, examples) in rules {
        rule_part(pack, rule, examples, out)?;
    }
    writeln!(out)
}

fn rule_part(pack: &Pack, rule: &Rule, examples: &[Example], out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "\n## {}\n\n**{}.** Level: {}.", rule.id, plain(&rule.title), level(rule))?;
    if !rule.constants.is_empty() {
        writeln!(out, "\n| constant | value |\n|---|---|")?;
        for constant in &rule.constants {
            writeln!(out, "| {} | {} |", code(&constant.name), code(&constant.value.show()))?;
        }
    }
    let exceptions = pack.exceptions(rule);
    if !exceptions.is_empty() {
        writeln!(out, "\nIt lets pass:\n")?;
    }
    for exception in exceptions {
        let (because, when) = (one_line(&exception.because.text), one_line(&exception.when.text));
        writeln!(out, "- {}: {}", plain(&words::capital(&because)), code(&when))?;
    }
    writeln!(out, "\nBasis:\n")?;
    for basis in &*rule.wording().basis {
        writeln!(out, "- {}", plain(&words::basis(basis)))?;
    }
    for adjusted in &rule.adjusted {
        writeln!(out, "- Adjusted: {}", plain(adjusted))?;
    }
    for table in tables_of(pack, rule) {
        table_part(table, out)?;
    }
    for example in examples {
        writeln!(out, "\n**{}**\n\n```detail\n{}\n```", example.heading, example.text)?;
        if let Some(finding) = example.finding.as_ref().filter(|_| example.heading == "Fails") {
            writeln!(out, "\n> {}", plain(&words::opened(finding)))?;
            if let Some(fix) = &finding.fix {
                writeln!(out, ">\n> *To do:* {}", plain(fix))?;
            }
        }
        if let Some(picture) = &example.picture {
            writeln!(out, "\n![{}: {}]({picture})", rule.id, example.heading.to_lowercase())?;
        }
    }
    Ok(())
}

fn table_part(table: &Table, out: &mut dyn Write) -> io::Result<()> {
    let title =
        if table.title.is_empty() { table.name.to_string() } else { format!("{}: {}", table.name, table.title) };
    let keys: Vec<&str> = table.keys.iter().map(|key| &*key.name).collect();
    writeln!(
        out,
        "\nTable {}\n\n| {} | value | known |\n|{}",
        plain(&title),
        keys.join(" | "),
        "---|".repeat(keys.len() + 2)
    )?;
    for row in &table.rows {
        let keys = row.keys.iter().map(|key| key.as_ref().map_or("any".to_owned(), |key| key.show()));
        let cells: Vec<String> = keys.chain([row.value.show(), row.known.word().to_owned()]).collect();
        writeln!(out, "| {} |", plain(&cells.join(" | ")).replace("\\|", "|"))?;
    }
    for basis in &table.basis {
        writeln!(out, "\n{}", plain(&words::basis(basis)))?;
    }
    writeln!(out, "\nWhere the table has no row, the rule reports nothing.")
}

/// Every rule with its page.
///
/// # Errors
/// Those of `out`.
pub fn index_page(pack: &Pack, out: &mut dyn Write) -> io::Result<()> {
    writeln!(
        out,
        "# The rules\n\n{} in all. Each name links to its limits, its basis, and details that fail and pass.",
        words::counted(pack.rules.len(), "rule")
    )?;
    for (topic, rules) in by_topic(pack) {
        writeln!(
            out,
            "\n## [{}]({topic}.md)\n\n| rule | level | title |\n|---|---|---|",
            words::capital(&topic.replace('-', " "))
        )?;
        for rule in rules {
            writeln!(out, "| [{id}]({topic}.md#{id}) | {} | {} |", level(rule), plain(&rule.title), id = rule.id)?;
        }
    }
    writeln!(
        out,
        "\nFindings on text that headlap cannot read, and on settings and rule files, have [a page of their own](text.md)."
    )
}

/// Every source with its clauses, how well each is known, and the rules that rest on it.
///
/// # Errors
/// Those of `out`.
pub fn sources_page(pack: &Pack, out: &mut dyn Write) -> io::Result<()> {
    let best = |rule: &Rule| {
        Known::ALL.into_iter().find(|known| rule.wording().basis.iter().any(|basis| basis.known == *known))
    };
    let resting = |known| pack.rules.iter().filter(|rule| best(rule) == Some(known)).count();
    writeln!(out, "# Sources of the rules\n\n| best source of a rule | rules |\n|---|---|")?;
    for known in Known::ALL {
        writeln!(out, "| {} | {} |", known.word(), resting(known))?;
    }
    let mut sources: BTreeMap<(&str, &str, &str), BTreeSet<&str>> = BTreeMap::new();
    for rule in &pack.rules {
        for basis in rule.wording().basis.iter().filter(|basis| !basis.source.is_empty()) {
            let place = (&*basis.source, basis.clause.as_deref().unwrap_or_default(), basis.known.word());
            sources.entry(place).or_default().insert(&rule.id);
        }
    }
    writeln!(out, "\n| source | clause | known | rules |\n|---|---|---|---|")?;
    for ((source, clause, known), rules) in sources {
        let rules = rules.into_iter().filter_map(|id| pack.rule(id));
        let links: Vec<String> =
            rules.map(|rule| format!("[{id}]({}.md#{id})", pack.topic(rule), id = rule.id)).collect();
        writeln!(out, "| {} | {} | {known} | {} |", plain(source), plain(clause), links.join(", "))?;
    }
    Ok(())
}

/// What the findings mean that no rule makes.
///
/// # Errors
/// Those of `out`.
pub fn text_page(out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "# Text, settings and rule files\n\nThese findings come from no rule.")?;
    for page in &PAGES {
        writeln!(out, "\n## {}\n\n**{}.** Level: {}.\n\n{}", page.id, page.title, page.level.word(), plain(page.says))?;
        writeln!(out, "\n*To do:* {}", plain(page.fix))?;
        if page.unread {
            writeln!(out, "\nIt cannot be waived or put on a list of known findings.")?;
        }
    }
    writeln!(out)
}

/// The words of the language that rule files define.
///
/// # Errors
/// Those of `out`.
pub fn words_page(pack: &Pack, out: &mut dyn Write) -> io::Result<()> {
    let words = &pack.words;
    writeln!(out, "# Words from rule files\n\n## Kinds of detail\n\n| kind | what it is |\n|---|---|")?;
    for (name, kind) in &words.kinds {
        let dry = if kind.weather { "" } else { ", out of the weather" };
        writeln!(out, "| {} | {}{dry} |", code(name), plain(&kind.title))?;
    }
    for (title, about, names) in [
        (
            "Roles",
            "What a piece is there for: `as ROLE`. Other names are allowed, but no rule asks about them.",
            &words.roles,
        ),
        ("Surfaces", "What a bond meets: `surface` of a material.", &words.surfaces),
        ("Adhesives", "What a material sticks with: `adhesive`.", &words.adhesives),
        ("Substances", "What other metals and woods react with: `made-of`.", &words.substances),
    ] {
        let names: Vec<String> = names.iter().map(|name| code(name)).collect();
        writeln!(out, "\n## {title}\n\n{about}\n\n{}", names.join(" "))?;
    }
    Ok(())
}

/// What a rule may ask of each kind of thing.
///
/// # Errors
/// Those of `out`.
pub fn fields_page(pack: &Pack, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "# What a rule can ask\n\nThe kinds of thing that a rule can be about, and the fields of each.")?;
    for kind in Kind::ALL {
        writeln!(out, "\n## {}\n\n| field | type | meaning |\n|---|---|---|", kind.word())?;
        for field in fields_of(kind, &pack.words) {
            writeln!(out, "| {} | {} | {} |", code(field.name), plain(&field.of), plain(field.about))?;
        }
        if !kind.places().is_empty() {
            writeln!(
                out,
                "\nParts for `at`: {}.",
                kind.places().iter().map(|part| code(part)).collect::<Vec<_>>().join(", ")
            )?;
        }
    }
    Ok(())
}

fn level(rule: &Rule) -> &'static str {
    if rule.off { "off" } else { rule.level.word() }
}

/// Words that Markdown leaves as they are.
fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '<' => plain.push_str("&lt;"),
            '\n' => plain.push(' '),
            '\\' | '*' | '_' | '[' | ']' | '|' | '#' => plain.extend(['\\', letter]),
            letter => plain.push(letter),
        }
    }
    plain
}

fn code(text: &str) -> String {
    format!("`{}`", text.replace('|', "\\|"))
}
