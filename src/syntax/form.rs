//! The table of statements: the word of each, its rule in the grammar, how it is written, and the clauses that it may have.

use crate::syntax::clause::ClauseKind;
use crate::syntax::document::Keyword::{self, *};
use crate::syntax::grammar::Rule;

/// One kind of statement.
#[derive(Debug)]
pub struct Form {
    pub keyword: Keyword,
    pub word: &'static str,
    pub rule: Rule,
    /// How it is written, for messages.
    pub shape: &'static str,
    /// The clauses that it may have, on its line or in a block of its own.
    pub clauses: &'static [ClauseKind],
    /// Clauses that it must have.
    pub required: &'static [ClauseKind],
    /// There may be only one in an item.
    pub once: bool,
}

const fn plain(keyword: Keyword, word: &'static str, rule: Rule, shape: &'static str) -> Form {
    Form { keyword, word, rule, shape, clauses: &[], required: &[], once: true }
}

impl Form {
    const fn may(mut self, clauses: &'static [ClauseKind]) -> Form {
        self.clauses = clauses;
        self
    }

    const fn must(mut self, required: &'static [ClauseKind]) -> Form {
        self.required = required;
        self
    }

    const fn often(mut self) -> Form {
        self.once = false;
        self
    }
}

const WAIVE: Form = plain(Waive, "waive", Rule::waive_line, "waive RULE because \"why\" by \"who\" until 2027-03-31")
    .may(&[ClauseKind::On, ClauseKind::Because, ClauseKind::By, ClauseKind::Until])
    .must(&[ClauseKind::Because])
    .often();

/// The statements outside of all braces.
pub static ITEMS: &[Form] = &[
    plain(Include, "include", Rule::include_line, "include \"file.detail\"").often(),
    plain(Climate, "climate", Rule::climate_line, "climate NAME \"title\" { … }").may(&[ClauseKind::Title]).often(),
    plain(Material, "material", Rule::material_line, "material NAME KIND \"title\" { … }")
        .may(&[ClauseKind::Title])
        .often(),
    plain(Assembly, "assembly", Rule::assembly_line, "assembly NAME KIND \"title\" { … }")
        .may(&[ClauseKind::Title])
        .often(),
    plain(Detail, "detail", Rule::detail_line, "detail NAME KIND \"title\" joins A to B { … }")
        .may(&[ClauseKind::Title, ClauseKind::Joins])
        .must(&[ClauseKind::Joins])
        .often(),
    plain(Set, "set", Rule::set_line, "set \"title\" { … }").may(&[ClauseKind::Title]).often(),
];

static CLIMATE: &[Form] = &[
    plain(Zone, "zone", Rule::zone_line, "zone 6A"),
    plain(Indoor, "indoor", Rule::indoor_line, "indoor 20 C 45 %` or `indoor class 3"),
    plain(Outdoor, "outdoor", Rule::outdoor_line, "outdoor jan -8.1 C 78 %").often(),
    plain(Design, "design", Rule::design_line, "design outdoor -5 C 80 % indoor 20 C 50 % for 90 days")
        .may(&[ClauseKind::Outdoor, ClauseKind::Indoor, ClauseKind::Days])
        .must(&[ClauseKind::Outdoor, ClauseKind::Indoor, ClauseKind::Days]),
    plain(Drying, "drying", Rule::drying_line, "drying vapor 1200 Pa saturation 1700 Pa for 90 days")
        .may(&[ClauseKind::Vapor, ClauseKind::Saturation, ClauseKind::Days])
        .must(&[ClauseKind::Vapor, ClauseKind::Saturation, ClauseKind::Days]),
    plain(SourceNote, "source", Rule::text_line, "source \"where the months and the room come from\""),
];

static MATERIAL: &[Form] = &[
    plain(Holds, "holds", Rule::holds_line, "holds water, air"),
    plain(Thickness, "thickness", Rule::thickness_line, "thickness 12 mm"),
    plain(Permeance, "permeance", Rule::vapor_line, "permeance 50 perm"),
    plain(Mu, "mu", Rule::vapor_line, "mu 200 dry, 70 wet"),
    plain(Permeability, "permeability", Rule::vapor_line, "permeability 2 perm.in"),
    plain(AirLayer, "sd", Rule::vapor_line, "sd 0.02 m"),
    plain(Conductivity, "conductivity", Rule::conductivity_line, "conductivity 0.13 W/m.K"),
    plain(Resistance, "resistance", Rule::resistance_line, "resistance R 14` or `resistance R 5 per in")
        .may(&[ClauseKind::Per]),
    plain(Density, "density", Rule::density_line, "density 500 kg/m3"),
    plain(AirPermeance, "air-permeance", Rule::air_permeance_line, "air-permeance 0.02 L/s.m2 at 75 Pa")
        .may(&[ClauseKind::At]),
    plain(Sensitive, "sensitive", Rule::flag_line, "sensitive"),
    plain(DoubleSided, "double-sided", Rule::flag_line, "double-sided"),
    plain(Capped, "capped", Rule::flag_line, "capped"),
    plain(Vented, "vented", Rule::flag_line, "vented"),
    plain(Drained, "drained", Rule::flag_line, "drained"),
    plain(Surface, "surface", Rule::surface_line, "surface wood"),
    plain(MadeOf, "made-of", Rule::made_of_line, "made-of aluminum"),
    plain(Adhesive, "adhesive", Rule::adhesive_line, "adhesive butyl"),
    plain(AppliesAbove, "applies-above", Rule::applies_above_line, "applies-above -5 C"),
    plain(UvLimit, "uv-limit", Rule::uv_limit_line, "uv-limit 120 days"),
    plain(Section, "section", Rule::text_line, "section \"07 25 00\""),
    plain(SourceNote, "source", Rule::text_line, "source \"where the values come from\""),
];

static ASSEMBLY: &[Form] = &[
    plain(Outside, "outside", Rule::side_line, "outside"),
    plain(Inside, "inside", Rule::side_line, "inside"),
    plain(ClimateUse, "climate", Rule::climate_use_line, "climate NAME"),
    plain(Surfaces, "surfaces", Rule::surfaces_line, "surfaces 0.13 0.04"),
    plain(Layer, "layer", Rule::layer_line, "layer MATERIAL 12 mm controls water, air between FRAME 38 mm at 400 mm")
        .may(&[ClauseKind::Controls, ClauseKind::Between, ClauseKind::Role, ClauseKind::Thickness])
        .often(),
    plain(Slope, "slope", Rule::roof_slope_line, "slope 4:12"),
    plain(WallLine, "wall-line", Rule::wall_line_line, "wall-line up 450 mm"),
    WAIVE,
];

static DETAIL: &[Form] = &[
    plain(Piece, "piece", Rule::piece_line, "piece NAME MATERIAL of ASSEMBLY up 0 mm to 150 mm bonds OTHER, OTHER")
        .may(&[
            ClauseKind::Of,
            ClauseKind::Role,
            ClauseKind::Up,
            ClauseKind::Along,
            ClauseKind::Every,
            ClauseKind::Bonds,
            ClauseKind::Over,
            ClauseKind::Behind,
            ClauseKind::Drip,
            ClauseKind::Slope,
            ClauseKind::Rolled,
            ClauseKind::Primed,
            ClauseKind::Inside,
        ])
        .often(),
    plain(Seal, "seal", Rule::seal_line, "seal PIECE to PIECE with SEALANT up 20 mm")
        .may(&[
            ClauseKind::With,
            ClauseKind::UpAt,
            ClauseKind::AlongAt,
            ClauseKind::Width,
            ClauseKind::Depth,
            ClauseKind::On,
        ])
        .must(&[ClauseKind::With])
        .often(),
    plain(Fasten, "fasten", Rule::fasten_line, "fasten PIECE with FASTENER every 400 mm up from 100 mm")
        .may(&[ClauseKind::With, ClauseKind::Every, ClauseKind::Up, ClauseKind::Along])
        .must(&[ClauseKind::With, ClauseKind::Every])
        .often(),
    plain(Cut, "cut", Rule::cut_line, "cut PIECE up 0 mm to 900 mm along 0 mm to 600 mm")
        .may(&[ClauseKind::Up, ClauseKind::Along])
        .often(),
    plain(Fold, "fold", Rule::fold_line, "fold up 0 mm sill").often(),
    plain(Slope, "slope", Rule::slope_line, "slope 4:12 up to 0 mm").may(&[ClauseKind::Up, ClauseKind::Along]).often(),
    plain(Valley, "valley", Rule::valley_line, "valley up 0 mm").often(),
    plain(Weeps, "weeps", Rule::weeps_line, "weeps every 600 mm up 20 mm")
        .may(&[ClauseKind::Every, ClauseKind::UpAt])
        .must(&[ClauseKind::Every])
        .often(),
    plain(Grade, "grade", Rule::grade_line, "grade up -200 mm").may(&[ClauseKind::Paved]),
    plain(WallLine, "wall-line", Rule::wall_line_line, "wall-line up 450 mm"),
    plain(Sheltered, "sheltered", Rule::sheltered_line, "sheltered up from 2 m")
        .may(&[ClauseKind::Up])
        .must(&[ClauseKind::Up]),
    plain(Exposed, "exposed", Rule::exposed_line, "exposed 60 days"),
    plain(InstalledAt, "installed-at", Rule::installed_at_line, "installed-at 5 C"),
    plain(Sheet, "sheet", Rule::text_line, "sheet \"3/A-501\""),
    plain(Note, "note", Rule::text_line, "note \"…\"").often(),
    WAIVE,
];

static SET: &[Form] = &[plain(Needs, "needs", Rule::needs_line, "needs KIND between A and B` or `needs KIND of A")
    .may(&[ClauseKind::Meets, ClauseKind::Of])
    .often()];

/// The statements that an item may hold.
pub fn body(item: Keyword) -> &'static [Form] {
    match item {
        Climate => CLIMATE,
        Material => MATERIAL,
        Assembly => ASSEMBLY,
        Detail => DETAIL,
        Set => SET,
        _ => &[],
    }
}

pub fn form_of(forms: &'static [Form], word: &str) -> Option<&'static Form> {
    forms.iter().find(|form| form.word == word)
}

/// The item that a statement belongs in, for a statement that was written elsewhere.
pub fn home(word: &str) -> Option<Keyword> {
    [Detail, Assembly, Material, Climate, Set].into_iter().find(|item| form_of(body(*item), word).is_some())
}

/// `a detail`, `an assembly`.
pub fn with_article(item: Keyword) -> &'static str {
    match item {
        Include => "an include",
        Climate => "a climate",
        Material => "a material",
        Assembly => "an assembly",
        Detail => "a detail",
        Set => "a set",
        _ => "a statement",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_statement_knows_its_clauses_by_their_first_words() {
        let bodies = [Climate, Material, Assembly, Detail, Set].into_iter().flat_map(body);
        for form in ITEMS.iter().chain(bodies) {
            for word in form.clauses.iter().map(|kind| kind.form().word) {
                let same = form.clauses.iter().filter(|kind| kind.form().word == word && !word.is_empty());
                assert!(same.count() <= 1, "{} {word}", form.word);
            }
        }
    }
}
