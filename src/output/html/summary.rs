//! The tables at the front and back: findings by level and topic, waivers, what the set needs.

use std::collections::BTreeMap;

use maud::{Markup, html};

use crate::finding::{Finding, Level};
use crate::model::Waiver;
use crate::output::html::{Input, Topics};
use crate::output::{visible, words};

/// Gravest first.
const LEVELS: [Level; 3] = [Level::Error, Level::Warning, Level::Note];

pub fn summary(input: &Input, topics: &Topics) -> Markup {
    let mut by_topic: BTreeMap<&str, Vec<&Finding>> = BTreeMap::new();
    for finding in &input.report.findings {
        by_topic.entry(topics.of(finding)).or_default().push(finding);
    }
    let open = |findings: &[&Finding], level: Level| findings.iter().filter(|f| f.open() && f.level == level).count();
    let waived = |findings: &[&Finding]| findings.iter().filter(|f| !f.open()).count();
    let all: Vec<&Finding> = input.report.findings.iter().collect();
    html! {
        section #summary aria-labelledby="summary-title" {
            h2 #summary-title { "Summary" }
            p { (words::summary(input.report.summary(), input.report.files)) }
            @if !all.is_empty() {
                div.wide.numbers tabindex="0" role="region" aria-label="Findings by topic and level" {
                    table {
                        caption { "Findings by topic and level" }
                        thead { tr {
                            th scope="col" { "Topic" }
                            @for level in LEVELS { th scope="col" { (heading(level)) } }
                            th scope="col" { "Waived" }
                        } }
                        tbody {
                            @for (topic, findings) in &by_topic {
                                tr {
                                    th scope="row" { (words::capital(topic)) }
                                    @for level in LEVELS { td { (open(findings, level)) } }
                                    td { (waived(findings)) }
                                }
                            }
                            tr {
                                th scope="row" { "All" }
                                @for level in LEVELS { td { strong { (open(&all, level)) } } }
                                td { strong { (waived(&all)) } }
                            }
                        }
                    }
                }
            }
        }
    }
}

pub fn waivers(input: &Input) -> Markup {
    let mut all: Vec<(&str, &Waiver)> = Vec::new();
    for checked in input.checked {
        all.extend(checked.facts.details.iter().flat_map(|d| d.detail.waivers.iter().map(|w| (&*d.detail.name, w))));
        let assemblies = checked.facts.assemblies.iter();
        all.extend(assemblies.flat_map(|a| a.assembly.waivers.iter().map(|w| (&*a.assembly.name, w))));
    }
    let covered: Vec<(usize, &Finding)> =
        input.report.findings.iter().enumerate().filter(|(_, f)| f.waived.is_some()).collect();
    html! {
        section #waivers aria-labelledby="waivers-title" {
            h2 #waivers-title { "Waivers" }
            @if let Some(off) = crate::output::words::off(&input.report.off) { p { "Rules that are off. " (off) } }
            @if all.is_empty() { p { "No deviation is waived." } } @else {
                div.wide tabindex="0" role="region" aria-label="Table of waivers" {
                    table {
                        thead { tr {
                            @for head in ["In", "Rule", "Because", "By", "Until", "Covers"] { th scope="col" { (head) } }
                        } }
                        tbody {
                            @for (home, waiver) in &all {
                                tr {
                                    th scope="row" { (visible(home)) }
                                    td { (visible(&waiver.rule)) @if let Some((on, _)) = &waiver.on { " on " code { (visible(on)) } } }
                                    td { (visible(&waiver.because)) }
                                    td { (waiver.by.as_deref().map_or("not said".into(), visible)) }
                                    td {
                                        @match waiver.until {
                                            Some(date) => { (date.to_string()) @if date < input.today { " (expired)" } }
                                            None => "no end",
                                        }
                                    }
                                    td {
                                        @for (number, _) in covered.iter().filter(|(_, f)| covers(home, waiver, f)) {
                                            a href=(format!("#f{}", number + 1)) { "finding " (number + 1) } " "
                                        }
                                    }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn covers(home: &str, waiver: &Waiver, finding: &Finding) -> bool {
    let about = waiver.on.as_ref().is_none_or(|(on, _)| finding.subject.contains(on));
    finding.rule == waiver.rule && finding.item.as_deref() == Some(home) && about
}

pub fn set(input: &Input) -> Markup {
    html! {
        section #set aria-labelledby="set-title" {
            h2 #set-title { "Drawing set" }
            @if input.needs.is_empty() { p { "No drawing set lists the details that it needs." } } @else {
                div.wide tabindex="0" role="region" aria-label="Table of needed details" {
                    table {
                        caption { "Details that the set needs" }
                        thead { tr { th scope="col" { "Detail" } th scope="col" { "Of" } th scope="col" { "Found" } } }
                        tbody {
                            @for need in input.needs {
                                tr {
                                    th scope="row" { (visible(&need.kind)) }
                                    td {
                                        @let names: Vec<_> = need.assemblies.iter().map(|a| visible(&a.assembly.name)).collect();
                                        (names.join(" and "))
                                    }
                                    td { @if need.found { "yes" } @else { strong { "missing" } } }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn heading(level: Level) -> &'static str {
    match level {
        Level::Error => "Errors",
        Level::Warning => "Warnings",
        Level::Note => "Notes",
    }
}
