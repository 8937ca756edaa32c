//! The rules and the materials that come with headlap, for people to read and for firms to add to.

use std::path::PathBuf;

use clap::Subcommand;

/// Show the rules that details are checked against, and test your own.
#[derive(clap::Args)]
pub struct Rules {
    #[command(subcommand)]
    pub action: RulesAction,
}

#[derive(Subcommand)]
pub enum RulesAction {
    /// List every rule with its level and title.
    List {
        #[command(flatten)]
        set: RuleSet,
        /// Set the output format: text for people, json for programs.
        #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "json"])]
        format: String,
    },
    /// Show a rule in full: what it looks at, its limits, their basis, and details that fail and pass it.
    Show {
        /// The rule's id, such as short-head-lap.
        rule: String,
        #[command(flatten)]
        set: RuleSet,
    },
    /// Test each rule of a folder, or each built-in rule, against its own examples.
    ///
    /// A rule must find fault with every text under `fails`, and with none under `passes`. A failing example may also hold
    /// its corrected text, as `cured`: there the finding must be gone, and no other may appear.
    Test {
        /// Rule files and folders. Default: the built-in rules and the project's own.
        #[arg(value_name = "PATH")]
        paths: Vec<PathBuf>,
    },
    /// Print a manual of the rules as Markdown, by topic: limits, basis, and drawn details that fail and pass.
    Book {
        #[command(flatten)]
        set: RuleSet,
        /// Write a page for each topic into this folder, with drawings; create the folder if it does not exist.
        #[arg(long, value_name = "DIR")]
        out: Option<PathBuf>,
    },
    /// List what a rule can ask: the kinds of thing and their fields.
    Fields {
        /// Kinds of thing, such as lap. Default: all of them.
        kind: Vec<String>,
        #[command(flatten)]
        set: RuleSet,
    },
}

/// List the materials that come with headlap, for every file that says `include "stock.detail"`.
#[derive(clap::Args)]
pub struct Materials {
    /// Show only materials with this word in their name, kind or title, such as wood.
    #[arg(value_name = "WORD")]
    pub word: Option<String>,
    /// Set the output format: text for people, json for programs.
    #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "json"])]
    pub format: String,
}

/// Explain a finding by its id: what the rule looks at, its limits, their basis, and details that fail and pass it.
#[derive(clap::Args)]
pub struct Explain {
    /// The id, such as short-head-lap or syntax.
    #[arg(value_name = "ID")]
    pub rule: String,
    #[command(flatten)]
    pub set: RuleSet,
}

/// The built-in rules, and those of the project that the working folder belongs to.
#[derive(clap::Args)]
pub struct RuleSet {
    /// Add these rule files and folders to the built-in rules, instead of those that headlap.toml names.
    #[arg(long = "rules", value_name = "PATH")]
    pub rules: Vec<PathBuf>,
}
