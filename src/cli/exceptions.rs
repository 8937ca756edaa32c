//! `headlap exceptions`: what was accepted, why, by whom, and until when.

use std::process::ExitCode;

use jiff::civil::Date;

use crate::cli::args::{Exceptions as Args, Page};
use crate::cli::failure::Failure;
use crate::cli::task::{LibraryFiles, Task, today};
use crate::cli::{Done, Message, print};
use crate::finding::Finding;
use crate::model::{Name, Waiver};
use crate::output::{self, AdjustmentLine, Exceptions, KnownLine, WaiverLine};
use crate::project;
use crate::quantity::{Dimension, parse_quantity};
use crate::report::Checked;
use crate::review::Run;

pub fn run(args: &Args, page: &Page) -> Done {
    let warn_before = args.warn_before.as_deref().map(days).transpose()?;
    let task = Task::of(&args.paths)?;
    let run = task.run(true);
    let today = today();
    let mut all = Exceptions { waivers: waivers(&run, today), adjustments: Vec::new(), known: Vec::new() };
    for part in &task.parts {
        all.adjustments.extend(adjustments(&task, part));
        all.adjustments.extend(replaced(part));
        if let Some(path) = part.known(None) {
            all.known.extend(task.known_in(part, &path).entries()?.into_iter().map(|entry| KnownLine {
                file: entry.file,
                item: entry.item,
                rule: entry.rule,
                message: entry.message,
                because: entry.because,
                by: entry.by,
            }));
        }
    }
    let soon = |waiver: &&WaiverLine| waiver.days_left.is_some_and(|left| warn_before.is_some_and(|days| left <= days));
    let ending: Vec<&WaiverLine> = all.waivers.iter().filter(soon).collect();
    print::out(|out| match args.format.as_str() {
        "json" => output::exceptions_json(&all, out),
        _ => output::exceptions(&all, print::page(page), out),
    })?;
    for waiver in &ending {
        let ends = Message::WaiverEnds { rule: &waiver.rule, days: waiver.days_left.unwrap_or(0) };
        print::aside(&format!("{}:{}: {}", waiver.file, waiver.line, ends.words()));
    }
    let unread = print::unread(&run.report, Message::Incomplete, page);
    Ok(if unread == ExitCode::SUCCESS && !ending.is_empty() { ExitCode::from(1) } else { unread })
}

fn days(typed: &str) -> Result<i32, Failure> {
    let read = parse_quantity(typed).ok().filter(|quantity| quantity.dimension() == Dimension::Duration);
    let days = read.map(|quantity| (quantity.si / 86_400.0).round() as i32);
    Ok(days.or_else(|| typed.trim().parse().ok()).ok_or(Message::NotATime { typed })?)
}

fn waivers(run: &Run, today: Date) -> Vec<WaiverLine> {
    run.checked.iter().flat_map(|file| of_file(file, &run.report.findings, today)).collect()
}

fn of_file(file: &Checked, findings: &[Finding], today: Date) -> Vec<WaiverLine> {
    let of_assemblies = file.facts.assemblies.iter().map(|a| (&a.assembly.name, &a.assembly.waivers));
    let of_details = file.facts.details.iter().map(|d| (&d.detail.name, &d.detail.waivers));
    let all = of_assemblies.chain(of_details).flat_map(|(home, waivers)| waivers.iter().map(move |w| (home, w)));
    let line = |(home, waiver): (&Name, &Waiver)| WaiverLine {
        file: file.source.name.clone(),
        line: file.source.position(waiver.span.start as usize).line,
        item: home.to_string(),
        rule: waiver.rule.to_string(),
        on: waiver.on.as_ref().map(|(name, _)| name.to_string()),
        because: waiver.because.clone(),
        by: waiver.by.clone(),
        until: waiver.until,
        days_left: waiver.until.map(|until| (until - today).get_days()),
        covers: findings.iter().filter(|finding| covers(home, waiver, finding)).count(),
    };
    let mut lines: Vec<WaiverLine> = all.map(line).collect();
    lines.sort_by_key(|waiver| waiver.line);
    lines
}

fn covers(home: &Name, waiver: &Waiver, finding: &Finding) -> bool {
    let about = waiver.on.as_ref().is_none_or(|(on, _)| finding.subject.contains(on));
    finding.waived.is_some() && finding.rule == waiver.rule && finding.item.as_ref() == Some(home) && about
}

/// A firm's rule in the place of a stock one may ask for less.
fn replaced(part: &LibraryFiles) -> impl Iterator<Item = AdjustmentLine> {
    let pack = &part.project.pack;
    pack.replaced.iter().filter_map(|(rule, span)| {
        let source = pack.sources().get(&span.file)?;
        Some(AdjustmentLine {
            file: source.name.clone(),
            line: source.position(span.start as usize).line,
            rule: rule.to_string(),
            folder: None,
            change: "replaces the stock rule".to_owned(),
            off: false,
            because: String::new(),
        })
    })
}

fn adjustments(task: &Task, part: &LibraryFiles) -> Vec<AdjustmentLine> {
    let Some(config) = &part.project.config else { return Vec::new() };
    let everywhere = config.adjustments.iter().map(|adjustment| (None, adjustment));
    let folders = config.folders.iter().flat_map(|folder| {
        let name = project::shown(&folder.path, &task.working);
        folder.adjustments.iter().map(move |adjustment| (Some(name.clone()), adjustment))
    });
    let line = |(folder, adjustment): (Option<String>, &crate::rules::Adjustment)| AdjustmentLine {
        file: config.source.name.clone(),
        line: config.source.position(adjustment.rule_span.start as usize).line,
        rule: adjustment.rule.to_string(),
        folder,
        change: adjustment.change(),
        off: adjustment.off,
        because: adjustment.because.clone(),
    };
    everywhere.chain(folders).map(line).collect()
}
