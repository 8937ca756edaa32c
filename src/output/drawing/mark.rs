//! Findings on a drawing: a numbered mark at the place, the words in a list below.

use crate::finding::{Finding, Level};
use crate::model::Detail;
use crate::output::drawing::lettering::{lettered, wrap};
use crate::output::drawing::paper::{BEYOND, LINE, MEDIUM, MEMBRANE, SMALL, WORDS};
use crate::output::drawing::scene::{Anchor, Dash, Ink, Pen, Point, Role, Scene, Shape, Symbol};
use crate::output::words;
use crate::text::Span;

/// A finding with the number that it has in the list.
#[derive(Clone, Copy, Debug)]
pub struct Mark<'a> {
    pub number: usize,
    pub finding: &'a Finding,
    /// What a comparison says of it: new, worse, unchanged.
    pub state: Option<&'static str>,
}

impl<'a> Mark<'a> {
    pub fn new(number: usize, finding: &'a Finding) -> Mark<'a> {
        Mark { number, finding, state: None }
    }
}

/// Open findings, errors first: what is enlarged is what matters most.
pub fn gravest_first<'m, 'f>(marks: &'m [Mark<'f>]) -> Vec<&'m Mark<'f>> {
    let mut open: Vec<&Mark> = marks.iter().filter(|entry| entry.finding.open()).collect();
    open.sort_by_key(|entry| std::cmp::Reverse(entry.finding.level));
    open
}

/// Half the size of a mark on paper, mm.
pub const RADIUS: f64 = 3.0;

/// The pieces that a finding is about, those that its rule names first in front.
pub fn pieces(detail: &Detail, finding: &Finding) -> Vec<usize> {
    let named = finding.subject.iter().filter_map(|name| detail.pieces.iter().position(|p| p.name == *name));
    let mut pieces: Vec<usize> = named.collect();
    if pieces.is_empty() {
        let holds = |span: Span| {
            span.file == finding.span.file && span.start <= finding.span.start && finding.span.end <= span.end
        };
        let of_seal = detail.seals.iter().filter(|s| holds(s.span)).flat_map(|s| [s.first.index, s.second.index]);
        let of_fastening = detail.fastenings.iter().filter(|f| holds(f.span)).map(|f| f.piece.index);
        let of_cut = detail.cuts.iter().filter(|c| holds(c.span)).map(|c| c.piece.index);
        let own = detail.pieces.iter().enumerate().filter(|(_, p)| holds(p.span)).map(|(index, _)| index);
        pieces.extend(own.chain(of_seal).chain(of_fastening).chain(of_cut));
    }
    let mut seen = Vec::new();
    pieces.retain(|p| {
        !seen.contains(p) && {
            seen.push(*p);
            true
        }
    });
    pieces
}

/// The finding is about this detail: it names it, and it or a place that has a part in it stands in its lines.
pub fn belongs(detail: &Detail, finding: &Finding) -> bool {
    if finding.item.as_ref().is_some_and(|item| *item != detail.name) {
        return false;
    }
    let whole = extent(detail);
    let holds = |span: Span| span.file == whole.file && whole.start <= span.start && span.end <= whole.end;
    holds(finding.span) || finding.related.iter().any(|related| holds(related.span))
}

/// From the head of a detail to the end of its last statement.
fn extent(detail: &Detail) -> Span {
    let pieces = detail.pieces.iter().map(|p| p.span);
    let cuts = detail.cuts.iter().map(|c| c.span);
    let seals = detail.seals.iter().map(|s| s.span);
    let fastenings = detail.fastenings.iter().map(|f| f.span);
    let others = detail.weeps.iter().map(|w| w.span).chain(detail.folds.iter().map(|f| f.span));
    let waivers = detail.waivers.iter().map(|w| w.span);
    let stated = [detail.grade, detail.wall_line, detail.exposed, detail.installed_at];
    let stated = stated.into_iter().flatten().map(|s| s.span).chain(detail.sheltered.and_then(|up| up.span));
    let stated = stated.chain(detail.slopes.iter().map(|s| s.span)).chain(detail.valleys.iter().map(|v| v.span));
    let all = pieces.chain(cuts).chain(seals).chain(fastenings).chain(others).chain(waivers).chain(stated);
    all.filter(|span| span.file == detail.span.file).fold(detail.span, Span::to)
}

/// The mark itself: a square on its tip, which no other number has. An error is black, a warning has a heavy rim, a note a thin one, what is
/// settled a dotted one.
pub fn mark(center: Point, mark: Mark) -> Shape {
    let finding = mark.finding;
    let filled = finding.level == Level::Error && finding.open();
    let pen = Pen::solid(if finding.level == Level::Note { BEYOND } else { MEMBRANE }, Ink::Black);
    let pen = if !finding.open() { Pen::solid(MEDIUM, Ink::Black).dashed(Dash::Dotted) } else { pen };
    let fill = if filled { Ink::Black } else { Ink::White };
    let tip = |x: f64, y: f64| Point::new(center.x + x * RADIUS, center.y + y * RADIUS);
    let rim = vec![tip(1.0, 0.0), tip(0.0, 1.0), tip(-1.0, 0.0), tip(0.0, -1.0)];
    let rim = Shape::polygon(rim, Some(pen), Some(fill));
    let digits = mark.number.to_string();
    let height = if digits.len() > 2 { SMALL * 0.7 } else { SMALL };
    let words = Shape::text(Point::new(center.x, center.y + height / 2.0), height, digits)
        .anchored(Anchor::Middle)
        .bold()
        .inked(if filled { Ink::White } else { Ink::Black });
    Shape::group(Role::Mark(mark.number), format!("{} {}", word(finding), mark.number), vec![rim, words])
}

/// The mark by itself, as a small drawing of its own size.
pub fn alone(number: usize, finding: &Finding) -> Scene {
    let side = 2.0 * RADIUS + 0.8;
    let shapes = vec![mark(Point::new(side / 2.0, side / 2.0), Mark::new(number, finding))];
    Scene { width: side, height: side, shapes, ..Scene::empty() }
}

/// What the legend calls the mark of a finding.
pub fn symbol(finding: &Finding) -> Symbol {
    match finding.level {
        _ if !finding.open() => Symbol::Settled,
        Level::Error => Symbol::Error,
        Level::Warning => Symbol::Warning,
        Level::Note => Symbol::Remark,
    }
}

/// A line from a mark to its place, which ends in a dot.
pub fn pointer(number: usize, path: Vec<Point>) -> Shape {
    let at = path.last().copied().unwrap_or(Point::new(0.0, 0.0));
    let dot = Shape::Circle { center: at, radius: 0.6, pen: None, fill: Some(Ink::Black) };
    Shape::group(Role::Anchor(number), "", vec![Shape::line(path, Pen::solid(MEDIUM, Ink::Black)), dot])
}

/// A ring around a mark and its place, to be laid over a drawing: the mark is lit.
pub fn highlight(scene: &Scene, number: usize) -> Vec<Shape> {
    let mut rings = Vec::new();
    for shapes in scene.groups(Role::Mark(number)) {
        let mut center = None;
        shapes.iter().for_each(|shape| match shape {
            Shape::Circle { center: at, .. } => center = Some(*at),
            Shape::Path { runs, .. } => {
                let points = runs.concat();
                let count = points.len().max(1) as f64;
                let sum = points.iter().fold((0.0, 0.0), |(x, y), p| (x + p.x, y + p.y));
                center = Some(Point::new(sum.0 / count, sum.1 / count));
            }
            _ => {}
        });
        // Close enough to leave the words beside it free.
        rings.extend(center.map(|center| (center, RADIUS * 1.1)));
    }
    for shapes in scene.groups(Role::Anchor(number)) {
        shapes.iter().for_each(|shape| {
            if let Shape::Circle { center, .. } = shape {
                rings.push((*center, RADIUS));
            }
        });
    }
    let pen = Some(Pen::solid(MEMBRANE * scene.scale, Ink::Warm));
    rings
        .into_iter()
        .map(|(center, radius)| Shape::Circle { center, radius: radius * scene.scale, pen, fill: None })
        .collect()
}

/// The title of a finding, for a note on the drawing.
pub fn short(finding: &Finding) -> String {
    let title = if finding.title.is_empty() { &finding.rule } else { &finding.title };
    crate::output::visible(title).into_owned()
}

/// The words of the findings from `top` on, and where they end; with `cure`, what to do about those that are open.
pub fn list(marks: &[Mark], unplaced: &[usize], left: f64, top: f64, width: f64, cure: bool) -> (Vec<Shape>, f64) {
    let mut shapes = Vec::new();
    let mut at = top;
    for entry in marks {
        let finding = entry.finding;
        let aside = if unplaced.contains(&entry.number) { aside(finding) } else { String::new() };
        let state = entry.state.map_or(String::new(), |state| format!(", {state}"));
        let message = format!("{}{state}{aside}: {}", word(finding), finding.message);
        let waived = finding.waived.iter().map(|waived| format!("Waived: {}", words::waived(waived)));
        let cure = finding.fix.iter().filter(|_| cure && finding.open()).map(|fix| format!("To do: {fix}"));
        let parts = std::iter::once(message).chain(waived).chain(cure);
        shapes.push(mark(Point::new(left + RADIUS, at + WORDS / 2.0), *entry));
        for line in parts.flat_map(|part| wrap(&lettered(&part), WORDS, width - 8.0)) {
            shapes.push(Shape::text(Point::new(left + 8.0, at + WORDS), WORDS, line));
            at += LINE;
        }
        at += 2.4;
    }
    (shapes, at)
}

/// Why a finding has no place on the drawing: what it misses is not there to be drawn, or it lies beside the cut.
fn aside(finding: &Finding) -> String {
    match finding.title.strip_prefix("No ").or_else(|| finding.title.strip_prefix("Missing ")) {
        Some(what) => format!(", missing: {what}"),
        None => " (not on this drawing)".to_owned(),
    }
}

fn word(finding: &Finding) -> String {
    let waived = match (&finding.waived, finding.listed) {
        (Some(_), _) => ", waived",
        (None, true) => ", known",
        (None, false) => "",
    };
    format!("{}{waived}", finding.level.word())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::FileId;

    #[test]
    fn what_matters_most_comes_first_and_in_the_order_of_the_text() {
        let finding = |level: Level| Finding::new("rule", "Rule", level, Span::new(FileId::detail(0), 0, 1), "wrong");
        let found = [Level::Note, Level::Error, Level::Warning, Level::Error].map(finding);
        let marks: Vec<Mark> = found.iter().enumerate().map(|(n, finding)| Mark::new(n + 1, finding)).collect();
        let order: Vec<usize> = gravest_first(&marks).iter().map(|entry| entry.number).collect();
        assert_eq!(order, [2, 4, 3, 1]);
    }
}
