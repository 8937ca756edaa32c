//! Arbitrary pieces on a face, as a text of the language and through the whole review: what random letters hardly make.

use super::review::hold;

/// Of every kind that water, air or a bond treats differently.
pub const MATERIALS: [&str; 8] = [
    "plywood",
    "wrap-open",
    "flash-tape",
    "butyl-flashing",
    "window-wood",
    "cedar-boards",
    "concrete",
    "aluminum-flashing",
];

const KINDS: [&str; 6] = ["course", "sill", "head", "jamb", "base-of-wall", "outside-corner"];

const HEAD: &str = "\
include \"stock.detail\"
assembly W wall {
  outside
  layer wrap-open controls water, air
  layer plywood 12 mm
  layer mineral-wool 140 mm controls thermal
  layer gypsum 12.5 mm
  inside
}
assembly C existing { outside; layer concrete 200 mm; inside }
";

/// Tries these bytes.
pub fn run(bytes: &[u8]) {
    hold(&[&detail(&mut Bytes(bytes))]);
}

/// Bytes as choices; nothing but zeros when they have run out.
struct Bytes<'a>(&'a [u8]);

impl Bytes<'_> {
    fn take(&mut self) -> u8 {
        match self.0 {
            [first, rest @ ..] => {
                self.0 = rest;
                *first
            }
            [] => 0,
        }
    }

    fn of<'t>(&mut self, words: &[&'t str]) -> &'t str {
        words[usize::from(self.take()) % words.len()]
    }

    /// A height on a grid that makes edges meet often, now and then a little off it.
    fn height(&mut self) -> i32 {
        let byte = i32::from(self.take()) - 128;
        if byte % 7 == 0 { byte } else { byte / 8 * 25 }
    }

    fn extent(&mut self, axis: &str) -> String {
        match self.take() % 5 {
            0 => String::new(),
            1 => format!(" {axis} from {} mm", self.height()),
            2 => format!(" {axis} to {} mm", self.height()),
            _ => {
                let low = self.height();
                format!(" {axis} {low} mm to {} mm", low + 1 + i32::from(self.take()))
            }
        }
    }
}

fn detail(bytes: &mut Bytes) -> String {
    let mut text = String::from(HEAD);
    let joins = bytes.of(&["W", "C", "W to C"]);
    text.push_str(&format!("detail D {} joins {joins} {{\n", bytes.of(&KINDS)));
    let mut pieces = 0;
    while !bytes.0.is_empty() && pieces < 24 {
        text.push_str(&statement(bytes, &mut pieces));
    }
    text.push_str("}\n");
    text
}

fn statement(bytes: &mut Bytes, pieces: &mut usize) -> String {
    let some = |bytes: &mut Bytes, pieces: usize| format!("p{}", usize::from(bytes.take()) % pieces.max(1));
    match bytes.take() % 16 {
        0 => {
            let (one, other) = (some(bytes, *pieces), some(bytes, *pieces));
            format!("  seal {one} to {other} with butyl-bead{}{}\n", bytes.extent("up"), bytes.extent("along"))
        }
        1 => {
            let piece = some(bytes, *pieces);
            let every = 1 + u32::from(bytes.take()) * 4;
            format!("  fasten {piece} with cap-nail every {every} mm{}{}\n", bytes.extent("up"), bytes.extent("along"))
        }
        2 => format!("  cut {}{}{}\n", some(bytes, *pieces), bytes.extent("up"), bytes.extent("along")),
        3 => {
            let kind = ["sill", "head", "jamb", "outside-corner", "inside-corner"];
            format!("  fold {} {} mm {}\n", bytes.of(&["up", "along"]), bytes.height(), bytes.of(&kind))
        }
        4 => format!("  grade up {} mm\n", bytes.height()),
        5 => format!("  sheltered up from {} mm\n", bytes.height()),
        6 => format!("  exposed {} days\n", bytes.take()),
        7 => format!("  weeps every {} mm{}\n", 1 + u32::from(bytes.take()) * 4, bytes.extent("along")),
        _ => piece(bytes, pieces),
    }
}

fn piece(bytes: &mut Bytes, pieces: &mut usize) -> String {
    let mut line = format!("  piece p{pieces} {}", bytes.of(&MATERIALS));
    line.push_str(&bytes.extent("up"));
    line.push_str(&bytes.extent("along"));
    let flags = bytes.take();
    for (bit, clause) in [(1, "bonds"), (2, "behind"), (4, "over")] {
        if flags & bit != 0 && *pieces > 0 {
            line.push_str(&format!(" {clause} p{}", usize::from(bytes.take()) % *pieces));
        }
    }
    for (bit, clause) in [(8, " with drip"), (16, " rolled"), (32, " primed"), (64, " slope 5 %"), (128, " of W")] {
        if flags & bit != 0 {
            line.push_str(clause);
        }
    }
    *pieces += 1;
    line.push('\n');
    line
}
