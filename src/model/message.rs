//! All that can be wrong with what the files mean, each message with its id, its words and what to do about it.

use crate::finding::{Finding, Id};
use crate::model::include::near_builtin;
use crate::model::resolve::ItemKind;
use crate::model::{Assembly, Material, MaterialKind, Name};
use crate::quantity::Quantity;
use crate::syntax::{several, short};
use crate::text::{Span, akin, nearest};

/// What is wrong with the meaning of a text. The code that finds it builds the variant; its wording is here.
#[derive(Clone, Debug)]
pub enum Message<'a> {
    // Names.
    Undefined {
        kind: ItemKind,
        name: &'a Name,
        known: &'a [&'a str],
    },
    UndefinedPiece {
        name: &'a Name,
        known: &'a [&'a str],
    },
    /// A word of a closed list.
    UnknownWord {
        phrase: &'a str,
        word: &'a Name,
        known: &'a [&'a str],
    },
    UnknownZone {
        zone: &'a str,
    },
    /// Names of a built-in library that is not included.
    LibraryNotIncluded {
        library: &'a str,
        kind: ItemKind,
        names: &'a [Name],
    },
    IdleRole {
        role: &'a Name,
        close: &'a str,
    },
    Duplicate {
        phrase: &'a str,
        name: &'a Name,
        first: Span,
    },
    DuplicateLayer {
        name: &'a Name,
        first: Span,
    },
    DuplicateInIncludes {
        phrase: &'a str,
        name: &'a Name,
        first: Span,
        second: Span,
    },
    // Includes.
    CircularInclude,
    FailedInclude {
        why: &'a str,
        path: Option<&'a str>,
    },
    // Materials and climates.
    WrongKind {
        material: &'a Material,
        used: Use,
    },
    VaporTwice {
        first: Span,
    },
    DryAndWet,
    OtherPressure {
        pressure: Quantity,
    },
    MonthsMissing {
        climate: &'a Name,
        given: usize,
        missing: &'a [&'a str],
    },
    // Assemblies.
    TooManyLayers {
        most: usize,
    },
    NoSpaceBetweenFrames {
        width: Quantity,
        spacing: Quantity,
    },
    SideAmongLayers,
    NoSide {
        assembly: &'a Name,
    },
    // Details, and the sets that need them.
    JoinedToItself {
        assembly: &'a Name,
    },
    NamesItself {
        piece: &'a str,
    },
    SealedToItself {
        piece: &'a str,
    },
    TwoPlaces,
    CutWithoutExtent,
    RowWithoutSize,
    TooMany {
        most: usize,
        what: &'a str,
    },
    NotJoined {
        assembly: &'a Name,
        defined: bool,
        joined: &'a [&'a str],
    },
    NoSuchLayer {
        assembly: &'a Assembly,
        material: &'a Material,
    },
    NeedsWhere {
        both: bool,
    },
    // Waivers.
    CannotWaive {
        rule: &'a str,
    },
    NoReason,
}

/// What a material is used as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Use {
    Layer,
    Piece,
    Frame,
    Sealant,
    Fastener,
}

impl Message<'_> {
    /// The finding at the words at fault.
    pub fn at(self, span: Span) -> Finding {
        let syntax = |message: &str| Id::Syntax.at(span, message);
        match self {
            Message::Undefined { kind, name, known } => {
                no_such(span, kind.phrase(), name, known, || way_out(kind, &short(name), known))
            }
            Message::UndefinedPiece { name, known } => no_such(span, "piece", name, known, || match known {
                [] => format!("Draw it: `piece {} MATERIAL`.", short(name)),
                known => format!("The pieces of this detail are {}.", several(known)),
            }),
            Message::UnknownWord { phrase, word, known } => no_such(span, phrase, word, known, || one_of(known)),
            Message::UnknownZone { zone } => Id::UnknownName
                .at(span, format!("`{zone}` is not a climate zone"))
                .fix("Write a zone of the energy codes, `0` to `8` with `A`, `B` or `C`, such as `6A`."),
            Message::LibraryNotIncluded { library, kind, names } => {
                let (first, others) = names.split_first().map_or(("", names), |(first, others)| (&**first, others));
                let mut message = format!("there is no {} `{}`", kind.phrase(), short(first));
                if !others.is_empty() {
                    message += &format!(", nor {}", several(others));
                }
                let them = if others.is_empty() { "it" } else { "them" };
                Id::UnknownName
                    .at(span, message)
                    .about(names.iter().cloned())
                    .fix(format!(
                        "Write `include \"{library}\"` at the top: this library comes with headlap and defines {them}."
                    ))
                    .edit(Span::new(span.file, 0, 0), format!("include \"{library}\"\n"))
            }
            Message::IdleRole { role, close } => Id::UnknownRole
                .at(span, format!("no rule asks about the role `{}`, so it changes nothing", short(role)))
                .about([role.clone()])
                .fix(format!("Did you mean `as {close}`?"))
                .edit(span, close),
            Message::Duplicate { phrase, name, first } => Id::DuplicateName
                .at(span, format!("duplicate {phrase} `{}`", short(name)))
                .about([name.clone()])
                .related(first, "here is the first one")
                .fix("Rename one of the two."),
            Message::DuplicateLayer { name, first } => Id::DuplicateName
                .at(span, format!("duplicate layer name `{name}`"))
                .about([name.clone()])
                .related(first, "here is the other one")
                .fix("Rename one of the two with `as`."),
            Message::DuplicateInIncludes { phrase, name, first, second } => Id::DuplicateName
                .at(span, format!("the included files define the {phrase} `{name}` twice"))
                .about([name.clone()])
                .related(first, "here is the first one")
                .related(second, "here is the second one")
                .fix("Rename one of the two."),

            Message::CircularInclude => Id::IncludeFailed
                .at(span, "circular include: it leads back to this file")
                .fix("Move what both files need into a third file, and include that file in both."),
            Message::FailedInclude { why, path } => {
                let finding = Id::IncludeFailed.at(span, format!("this cannot be included: {why}"));
                match path.and_then(near_builtin) {
                    Some(close) => finding.fix(format!("The built-in library is called \"{close}\".")),
                    None => finding,
                }
            }

            Message::WrongKind { material, used } => {
                let kind = material.kind.map_or("material", MaterialKind::word);
                Id::UnknownName
                    .at(span, format!("`{}` is of kind `{kind}`; {}", material.name, used.expected()))
                    .about([material.name.clone()])
                    .related(material.name_span, format!("`{}` is defined here", material.name))
            }
            Message::VaporTwice { first } => syntax("the vapor resistance is given twice, in two measures")
                .related(first, "here is the first one")
                .fix("Keep one of `permeance`, `mu`, `permeability` and `sd`."),
            Message::DryAndWet => syntax("expected one value marked `dry` and one marked `wet`")
                .fix("Write both, as in `mu 200 dry, 70 wet`."),
            Message::OtherPressure { pressure } => Id::WrongUnit
                .at(span, format!("this air permeance is measured at {pressure}; expected the value at 75 Pa")),
            Message::MonthsMissing { climate, given, missing } => {
                let missing = match missing {
                    [one] => format!("{one} is"),
                    [most @ .., last] => format!("{} and {last} are", most.join(", ")),
                    [] => "none is".to_owned(),
                };
                syntax(&format!("this climate gives {given} of 12 months; {missing} missing"))
                    .about([climate.clone()])
                    .fix("Give all twelve monthly means, or none.")
            }

            Message::TooManyLayers { most } => Id::TooLarge
                .at(span, format!("this assembly has more than {most} layers, so none of its numbers were worked out"))
                .fix("Write an assembly for each part of the building."),
            Message::NoSpaceBetweenFrames { width, spacing } => {
                Id::EmptyExtent.at(span, format!("frames {width} wide at {spacing} leave no space between them"))
            }
            Message::SideAmongLayers => syntax("`outside` and `inside` have to be at the two ends of the layers")
                .fix("Write `outside` before the first layer and `inside` after the last, or the other way around."),
            Message::NoSide { assembly } => syntax("this assembly does not say which side is outside")
                .about([assembly.clone()])
                .fix("Write `outside` before its first layer and `inside` after its last."),

            Message::JoinedToItself { assembly } => syntax(&format!("`{assembly}` is joined to itself"))
                .about([assembly.clone()])
                .fix("For a condition within one assembly write `joins A` alone."),
            Message::NamesItself { piece } => syntax(&format!("`{piece}` names itself")).fix("Name the other piece."),
            Message::SealedToItself { piece } => syntax(&format!("`{piece}` is sealed to itself")),
            Message::TwoPlaces => {
                syntax("this bead has two places; expected one height or one place along").fix("Keep one of the two.")
            }
            Message::CutWithoutExtent => Id::EmptyExtent
                .at(span, "this cut has no extent, so it would remove the whole piece")
                .fix("Write where the hole is, such as `up 0 mm to 900 mm along 0 mm to 600 mm`."),
            Message::RowWithoutSize => Id::EmptyExtent
                .at(span, "this piece has no size along its row, so the row cannot be laid out")
                .fix("Write where the first piece of the row begins and ends, as in `up 0 mm to 300 mm every 150 mm`."),
            Message::TooMany { most, what } => syntax(&format!("this detail has more than {most} {what}")),
            Message::NotJoined { assembly, defined, joined } => {
                let message = match defined {
                    true => format!("this detail does not join `{assembly}`, so it has no layer for the piece"),
                    false => format!("this detail joins no assembly `{assembly}`"),
                };
                Id::UnknownLayer.at(span, message).about([assembly.clone()]).fix(
                    match nearest(assembly, joined.iter().copied()) {
                        Some(close) => format!("Did you mean `of {close}`?"),
                        None => format!("The detail joins {}.", joined.join(" and ")),
                    },
                )
            }
            Message::NoSuchLayer { assembly, material } => {
                let known: Vec<&str> = assembly.layers.iter().map(|layer| &*layer.material.name).collect();
                Id::UnknownLayer
                    .at(span, format!("`{}` has no layer of `{}`", assembly.name, material.name))
                    .about([assembly.name.clone(), material.name.clone()])
                    .related(assembly.name_span, format!("`{}` is defined here", assembly.name))
                    .fix(match nearest(&material.name, known.iter().copied()) {
                        Some(close) => format!("Did you mean its layer of `{close}`?"),
                        None if known.is_empty() => "It has no layers.".to_owned(),
                        None => format!("Its layers are {}.", known.join(", ")),
                    })
            }
            Message::NeedsWhere { both } => {
                let which = if both { "both `of` and `between`" } else { "neither `of` nor `between`" };
                syntax(&format!("this has {which}; expected one of them"))
                    .fix("Write `needs KIND of A` or `needs KIND between A and B`.")
            }

            Message::CannotWaive { rule } => syntax(&format!(
                "`{rule}` cannot be waived: headlap cannot judge what it cannot read or what is not stated"
            ))
            .fix("Correct the text that the finding points to, and delete this waiver."),
            Message::NoReason => syntax("this waiver gives no reason").fix("Say why the deviation is accepted."),
        }
    }
}

/// Adds the names that an include which failed may define.
pub(in crate::model) fn may_define(finding: &mut Finding, names: Vec<Name>) {
    finding.message += &format!("; it may define {}", several(&names));
    finding.subject = names;
}

/// Why an include leads to no text.
pub mod no_text {
    pub const NO_NAME: &str = "it names no file";
    pub const NO_PATH: &str = "expected a path from the folder of this file, with `/` between its parts";

    pub fn too_deep(most: usize) -> String {
        format!("its includes are circular or more than {most} files deep")
    }

    pub const NO_FILE: &str = "there is no such file";

    /// The reason, with a file that may have been meant.
    pub fn near(why: &str, near: Option<&str>) -> String {
        near.map_or(why.to_owned(), |near| format!("{why}; `{near}` is there"))
    }

    pub fn in_example(path: &str) -> String {
        format!("an example cannot include other files, so there is no {path}")
    }

    pub fn in_climate(path: &str) -> String {
        format!("a climate file cannot include another file, and this one includes {path}")
    }

    pub fn in_stock(path: &str) -> String {
        format!("{path} is not part of the stock library")
    }
}

/// A name that nothing has. `way_out` is for one that no known name is like.
fn no_such(span: Span, phrase: &str, name: &Name, known: &[&str], way_out: impl FnOnce() -> String) -> Finding {
    let finding = Id::UnknownName.at(span, format!("there is no {phrase} `{}`", short(name))).about([name.clone()]);
    if let Some(close) = nearest(name, known.iter().copied()) {
        return finding.fix(format!("Did you mean `{close}`?")).edit(span, close);
    }
    let akin = akin(name, known.iter().copied());
    finding.fix(match akin.is_empty() {
        true => way_out(),
        false => format!("Similar names: {}.", several(&akin)),
    })
}

fn way_out(kind: ItemKind, name: &str, known: &[&str]) -> String {
    let define = |form: &str| format!("Define it as `{form}`, or include the file that does.");
    match kind {
        ItemKind::Material => format!(
            "`headlap materials` lists those that come with headlap; define your own with `material {name} KIND {{`."
        ),
        ItemKind::Climate => define(&format!("climate {name} {{ … }}")),
        ItemKind::Assembly => define(&format!("assembly {name} KIND {{ … }}")),
        ItemKind::Rule => "`headlap rules list` lists them all.".to_owned(),
        ItemKind::DetailKind | ItemKind::Surface | ItemKind::Substance | ItemKind::Adhesive | ItemKind::Role => {
            one_of(known)
        }
    }
}

fn one_of(known: &[&str]) -> String {
    format!("Write one of {}.", known.join(", "))
}

impl ItemKind {
    fn phrase(self) -> &'static str {
        match self {
            ItemKind::Material => "material",
            ItemKind::Climate => "climate",
            ItemKind::Assembly => "assembly",
            ItemKind::DetailKind => "kind of detail",
            ItemKind::Surface => "surface family",
            ItemKind::Substance => "substance",
            ItemKind::Adhesive => "adhesive family",
            ItemKind::Role => "role",
            ItemKind::Rule => "rule",
        }
    }
}

impl Use {
    fn expected(self) -> &'static str {
        match self {
            Use::Layer => "a fastener cannot be a layer",
            Use::Piece => "a fastener cannot be a piece; write `fasten … with …`",
            Use::Frame => "expected a frame",
            Use::Sealant => "expected a sealant",
            Use::Fastener => "expected a fastener",
        }
    }

    /// The kind that the material has to be of, if only one will do.
    pub(in crate::model) fn kind(self) -> Option<MaterialKind> {
        match self {
            Use::Layer | Use::Piece => None,
            Use::Frame => Some(MaterialKind::Frame),
            Use::Sealant => Some(MaterialKind::Sealant),
            Use::Fastener => Some(MaterialKind::Fastener),
        }
    }
}
