//! All that can be wrong with settings, each message with what to do about it.

use crate::finding::{Finding, Id};
use crate::settings::{KEYS, LAYERS, NAME};
use crate::text::{Span, nearest};

/// What is wrong with settings. The code that finds it builds the variant; its wording is here.
#[derive(Clone, Debug)]
pub enum Message<'a> {
    // The file, and what its settings are called.
    NotToml {
        why: &'a str,
    },
    UnknownSetting {
        name: &'a str,
    },
    UnknownOfFolder {
        name: &'a str,
    },
    UnknownLayer {
        name: &'a str,
    },
    // Values of the wrong kind.
    RulesNotAList,
    RulesNotPaths,
    ClimateNotAName,
    UnknownUnits,
    UnknownLevel,
    VersionNotText,
    KnownNotAPath,
    NotAnAddress,
    LayersNotATable,
    LayerName {
        without: &'a str,
    },
    AdjustmentNotATable {
        form: &'a str,
    },
    FolderNotATable,
    FolderWithoutPath,
    PathNotAFolder,
    // Values that do not fit the program or the library.
    UnreadableVersion {
        why: &'a str,
    },
    OtherVersion {
        wanted: &'a str,
        own: &'a str,
    },
    UnknownEdition {
        known: &'a [&'a str],
    },
    AssumedInFolder,
    TooManyFolders {
        most: usize,
    },
    FolderOutside,
    NoFolder,
    Outside {
        path: &'a str,
    },
    LinkOutside {
        path: &'a str,
    },
    /// A file of settings or rules.
    Unreadable {
        path: &'a str,
        why: &'a str,
    },
    NoRules,
    NoClimate {
        why: &'a NoClimate,
    },
}

/// Why a library has no climate.
#[derive(Clone, Debug)]
pub enum NoClimate {
    Unknown { name: String, near: Option<String> },
    Unreadable { why: String },
    NoneInFile,
    SeveralInFile,
}

impl Message<'_> {
    /// The finding at the words at fault.
    pub fn at(self, span: Span) -> Finding {
        let wrong = |message: &str| Id::ProjectSetting.at(span, message);
        match self {
            Message::NotToml { why } => wrong(why),
            Message::UnknownSetting { name } => one_of(wrong(&format!("{NAME} has no setting `{name}`")), name, &KEYS),
            Message::UnknownOfFolder { name } => {
                one_of(wrong(&format!("a folder has no setting `{name}`")), name, &["path", "adjust"])
            }
            Message::UnknownLayer { name } => {
                let finding = wrong(&format!("drawings have no layer `{name}`"));
                match nearest(name, LAYERS) {
                    Some(near) => finding.fix(format!("Did you mean `{near}`?")),
                    None => finding.fix(format!("The layers are {}.", LAYERS.join(", "))),
                }
            }

            Message::RulesNotAList => wrong("`rules` has to be a list of paths: `rules = [\"firm-rules\"]`"),
            Message::RulesNotPaths => wrong("`rules` has to be a list of paths in quotes"),
            Message::ClimateNotAName => wrong("`climate` has to be the name of a climate, in quotes"),
            Message::UnknownUnits => wrong("`units` has to be \"metric\" or \"us\""),
            Message::UnknownLevel => wrong("`fail-on` has to be \"error\", \"warning\", \"note\" or \"never\""),
            Message::VersionNotText => {
                wrong("`required-version` has to be a version in quotes, such as \">=0.1, <0.3\"")
            }
            Message::KnownNotAPath => wrong("`known` has to be the path of the list of known findings, in quotes"),
            Message::NotAnAddress => {
                wrong("`docs-url` has to be a web address in quotes, such as \"https://example.org/headlap\"")
            }
            Message::LayersNotATable => {
                wrong("`layers` is a table of names: `[layers]`, then `membranes = \"Membranes\"`")
            }
            Message::LayerName { without } => wrong(&format!(
                "the name of a layer has to be in quotes, with at most 255 letters and none of {without}"
            )),
            Message::AdjustmentNotATable { form } => wrong(&format!("an adjustment has to be a table: `{form}`")),
            Message::FolderNotATable => wrong("`folder` has to be written as `[[folder]]`, once for each folder"),
            Message::FolderWithoutPath => wrong("a folder needs its `path`"),
            Message::PathNotAFolder => wrong("`path` has to be a folder of the library, in quotes"),

            Message::UnreadableVersion { why } => wrong(&format!("this version cannot be read: {why}")),
            Message::OtherVersion { wanted, own } => {
                wrong(&format!("this library requires headlap {wanted}; this is {own}"))
                    .fix("Install a matching version, or change the setting.")
            }
            Message::UnknownEdition { known } => {
                let known: Vec<String> = known.iter().map(|name| format!("\"{name}\"")).collect();
                wrong("there is no such edition of the stock rules")
                    .fix(format!("The editions are {}.", known.join(", ")))
            }
            Message::AssumedInFolder => {
                wrong("assumed values hold for the whole library; move them to `[adjust.assumed]`")
            }
            Message::TooManyFolders { most } => {
                wrong(&format!("more than {most} folders have adjustments of their own"))
                    .fix("Adjust a folder above several of them, or give some a headlap.toml of their own.")
            }
            Message::FolderOutside => wrong("this folder is outside the library"),
            Message::NoFolder => wrong("there is no such folder"),
            Message::Outside { path } => wrong(&format!("{path} is outside the library's folder"))
                .fix("Keep it in the library, or move headlap.toml to a folder above both."),
            Message::LinkOutside { path } => {
                wrong(&format!("{path} is a link to a place outside the library's folder"))
            }
            Message::Unreadable { path, why } => wrong(&format!("{path}: {why}")),
            Message::NoRules => wrong("there is no rule file (*.toml) of this name"),
            Message::NoClimate { why } => wrong(&format!("this climate cannot be used: {}", why.words())),
        }
    }
}

impl NoClimate {
    fn words(&self) -> String {
        match self {
            NoClimate::Unknown { name, near } => {
                let near = near.as_ref().map_or(String::new(), |near| format!("; did you mean `{near}`?"));
                format!("`{name}` is neither a built-in climate nor a `.detail` file{near}")
            }
            NoClimate::Unreadable { why } => why.clone(),
            NoClimate::NoneInFile => "the file has no climate".to_owned(),
            NoClimate::SeveralInFile => "the file has more than one climate".to_owned(),
        }
    }
}

fn one_of(finding: Finding, name: &str, known: &[&str]) -> Finding {
    match nearest(name, known.iter().copied()) {
        Some(near) => finding.fix(format!("Did you mean `{near}`?")),
        None => finding.fix(format!("The settings are {}.", known.join(", "))),
    }
}
