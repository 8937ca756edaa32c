//! A firm's detail library made up from a seed: the same seed gives the same bytes on every machine.
//!
//! The details are clean variations of common conditions, with the names, lengths, comments and groups that real files
//! have; one file in `MISTAKES` has a course lapped the wrong way, so that findings are part of what is measured.

/// One file in this many has a mistake.
pub const MISTAKES: u64 = 100;

/// What all files of the library include.
pub const SHARED: &str = r#"# Assemblies of the firm's standard library.
include "stock.detail"

material firm-wrap sheet "Vapor-open wrap" {
  holds water, air
  thickness 0.2 mm
  permeance 50 perm
  air-permeance 0.015 L/s.m2 at 75 Pa
  uv-limit 120 days
  surface polyolefin
  source "data sheet"
}

assembly F1 foundation "Concrete stem wall" {
  outside
  layer concrete        200 mm    controls water, air
  layer xps              50 mm    controls thermal
  inside
}

assembly W1 wall "Boards on battens" {
  outside
  layer cedar-boards     19 mm
  layer vented-gap       19 mm
  layer firm-wrap                 controls water, air
  layer plywood          12 mm
  layer mineral-wool    140 mm    controls thermal      between spruce 38 mm at 400 mm
  layer kraft-facing              controls vapor
  layer gypsum         12.5 mm
  inside
}
"#;

/// One file of the library: a base of wall, two courses and a seam, about 2 KB.
pub fn file(seed: u64, index: u64) -> String {
    let mut random = Random(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ index.wrapping_mul(0xD1B5_4A32_D192_ED03) | 1);
    let mistake = index % MISTAKES == MISTAKES - 1;
    let grade = 200 + 10 * random.below(20);
    let strip = 60 + 5 * random.below(9);
    let lap = 150 + 10 * random.below(11);
    let caps = 300 + 50 * random.below(3);
    let days = 14 + random.below(80);
    let level = 2400 + 50 * random.below(12);
    let (low, high) =
        (random.pick(&["wrap-low", "course-1", "lower"]), random.pick(&["wrap-high", "course-2", "upper"]));
    let order = [
        format!("  piece {low}  firm-wrap of W1  up to {} mm\n", level + lap),
        format!("  piece {high}  firm-wrap of W1  up from {level} mm\n"),
    ];
    let (first, second) = if mistake { (&order[1], &order[0]) } else { (&order[0], &order[1]) };
    let (band_low, band_high) = if mistake { (level + lap - 40, level + lap + 40) } else { (level - 40, level + 40) };
    format!(
        r#"# Standard detail {index}: foundation, courses and seams of the board wall.
# Checked by {checker}; see the general notes for substitutions.
include "../shared.detail"

material local-tape-{index} tape "Acrylic tape, 100 mm" {{
  holds water, air
  thickness 0.3 mm
  permeance 0.5 perm
  adhesive acrylic
  surface polyolefin
  uv-limit 180 days
  source "data sheet of submittal {submittal}"
}}

detail B{index} base-of-wall "Board wall on the stem wall" joins F1 to W1 {{
  sheet "{sheet}/A-501"
  grade up -{grade} mm
  # The seal under the wrap comes first.
  piece stem    concrete      of F1    up to 0 mm
  piece plate   treated-wood           up 0 mm to 38 mm
  seal  plate to stem with foam-gasket
  piece deck    plywood       of W1    up from 0 mm
  piece strip   flash-tape             up -{strip} mm to {strip} mm     bonds stem, deck   primed rolled
  piece wrap    firm-wrap     of W1    up from -25 mm
  seal  wrap to strip with butyl-bead  up -15 mm
  fasten wrap with cap-staple every {caps} mm up from 150 mm
  piece boards  cedar-boards  of W1    up from -40 mm         along from 600 mm
  piece foam    xps           of F1    up to 0 mm             inside
  piece wool    mineral-wool  of W1    up from 0 mm           inside
  exposed {days} days
}}

detail C{index} course "Courses of the wrap" joins W1 {{
  sheet "{sheet}/A-502"
  piece deck    plywood       of W1
{first}{second}  piece band    local-tape-{index}         up {band_low} mm to {band_high} mm   bonds {low}, {high}   rolled
  exposed {days} days
  note "Roll the tape; no caps within 150 mm of it."
}}

detail S{index} seam "Upright seam of the wrap" joins W1 {{
  sheet "{sheet}/A-503"
  piece deck    plywood       of W1
  piece left    firm-wrap     of W1    along to {side} mm
  piece right   firm-wrap     of W1    along from 0 mm
  piece band    local-tape-{index}         along {band_left} mm to {band_right} mm   bonds left, right   rolled
  exposed {days} days
}}
"#,
        checker = random.pick(&["AB", "KM", "RS", "TV"]),
        submittal = 10 + random.below(90),
        sheet = 1 + random.below(9),
        side = lap + 20,
        band_left = -40,
        band_right = 40,
    )
}

/// Where a file of the library stands: five hundred to a folder.
pub fn path(index: u64) -> String {
    format!("part-{:03}/detail-{index:06}.detail", index / 500)
}

struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        // xorshift64*
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    fn below(&mut self, limit: u64) -> u64 {
        (self.next() >> 33) % limit
    }

    fn pick<'a>(&mut self, words: &[&'a str]) -> &'a str {
        words[self.below(words.len() as u64) as usize]
    }
}
