//! A review that keeps what the last one worked out finds what a fresh one finds, whatever was written in between.

use headlap::{Checker, Date, Texts};

/// Four details of one file, with materials and assemblies of their own, and what they include.
const OWN: &str = r#"include "shared.detail"

material own-tape tape {
  holds water, air
  thickness 0.3 mm
  permeance 0.5 perm
  adhesive acrylic
  surface polyolefin
}

assembly W2 wall {
  outside
  layer skin           controls water, air
  layer plywood 12 mm
  layer mineral-wool 140 mm controls thermal between spruce 38 mm at 400 mm
  layer gypsum 12.5 mm
  inside
}

detail A course "Courses" joins W {
  piece deck   plywood  of W
  piece lower  skin     of W  up to 150 mm
  piece upper  skin     of W  up from 0 mm
  fasten upper with cap-staple every 400 mm up from 160 mm
  waive short-head-lap because "for a test"
}

# Between two details.
detail B course joins W2 {
  piece deck   plywood  of W2
  piece upper  skin     of W2  up from 0 mm
  piece lower  skin     of W2  up to 150 mm
  exposed 60 days
}

detail C seam joins W {
  piece deck   plywood   of W
  piece left   skin      of W  along to 20 mm
  piece right  skin      of W  along from 0 mm
  piece band   own-tape  along -40 mm to 40 mm  bonds left, right  rolled
}

detail D base-of-wall joins F to W {
  grade up -200 mm
  piece stem   concrete    of F  up to 0 mm
  piece deck   plywood     of W  up from 0 mm
  piece strip  flash-tape  up -60 mm to 60 mm  bonds stem, deck  primed rolled
  piece wrap   skin        of W  up from -25 mm
  seal wrap to strip with butyl-bead up -15 mm
}
"#;

const SHARED: &str = r#"include "stock.detail"

material skin sheet {
  holds water, air
  thickness 0.2 mm
  permeance 50 perm
  uv-limit 30 days
  surface polyolefin
}

assembly W wall { outside; layer skin controls water; layer plywood 12 mm controls air; inside }
assembly F foundation { outside; layer concrete 200 mm controls water, air; inside }
"#;

const CHUNKS: [&str; 22] = [
    "\n",
    "{",
    "}",
    "\"",
    "#",
    ";",
    "ü",
    "-25 mm",
    "150 mm",
    "bonds deck ",
    "of W",
    "rolled",
    "skin",
    "W2",
    "W",
    "piece x plywood\n",
    "up ",
    "detail A course joins W {\n",
    "}\n\ndetail E course joins W {\n",
    "existing ",
    "material skin sheet { holds water }\n",
    "waive reverse-lap because \"x\"\n",
];

struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % limit.max(1)
    }

    fn of<T>(&mut self, list: &[T]) -> usize {
        self.below(list.len())
    }

    /// A number, a word, a line or a few letters are changed.
    fn edit(&mut self, text: &mut String) {
        let mut lines: Vec<&str> = text.split_inclusive('\n').collect();
        let (one, other) = (self.of(&lines), self.of(&lines));
        let bounds: Vec<usize> = text.char_indices().map(|(at, _)| at).chain([text.len()]).collect();
        let from = self.of(&bounds);
        match self.below(7) {
            0 if !lines.is_empty() => {
                lines.swap(one, other);
                *text = lines.concat();
            }
            1 if !lines.is_empty() => {
                lines.remove(one);
                *text = lines.concat();
            }
            2 if !lines.is_empty() => {
                let line = lines[one];
                lines.insert(other, line);
                *text = lines.concat();
            }
            3 | 4 => {
                let digits: Vec<usize> = text.match_indices(|c: char| c.is_ascii_digit()).map(|(at, _)| at).collect();
                if let Some(at) = digits.get(self.of(&digits)) {
                    text.replace_range(at..&(at + 1), &self.below(10).to_string());
                }
            }
            5 => text.insert_str(bounds[from], CHUNKS[self.of(&CHUNKS)]),
            _ => {
                let to = (from + self.below(8)).min(bounds.len() - 1);
                text.replace_range(
                    bounds[from]..bounds[to],
                    if self.below(2) == 0 { "" } else { CHUNKS[self.of(&CHUNKS)] },
                );
            }
        }
    }
}

/// What leaves the others as they were must not touch them: words that stand before a detail, the same detail elsewhere.
#[test]
fn what_is_remembered_is_what_a_fresh_review_finds() {
    let (remembering, fresh) = (Checker::stock().remembering(), Checker::stock());
    let today = Date::constant(2026, 6, 1);
    let right = [("a.detail", OWN), ("shared.detail", SHARED)];
    let mut texts: Vec<String> = right.iter().map(|(_, text)| (*text).to_owned()).collect();
    let mut dice = Dice(5);
    let mut found = 0;
    for edit in 0..250 {
        let all = || {
            let mut all = Texts::new();
            right.iter().zip(&texts).for_each(|((name, _), text)| all.add(*name, text.as_str()));
            all
        };
        let (kept, anew) = (all(), all());
        let (kept, anew) = (remembering.review(&kept, ["a.detail"], today), fresh.review(&anew, ["a.detail"], today));
        assert!(
            kept.report().findings == anew.report().findings && kept.json() == anew.json(),
            "edit {edit}:\n{}\nit remembers\n{}\nit finds\n{}\nof\n{}\n{}",
            dice.0,
            kept.json(),
            anew.json(),
            texts[0],
            texts[1]
        );
        assert!(kept.facts_json() == anew.facts_json(), "edit {edit}: the facts differ of\n{}\n{}", texts[0], texts[1]);
        found += anew.report().findings.len();
        let file = usize::from(dice.below(5) == 0);
        match dice.below(8) {
            0 => texts[file] = right[file].1.to_owned(),
            _ => dice.edit(&mut texts[file]),
        }
    }
    assert!(found > 500, "{found} findings are too few to tell anything");
}
