//! What is shown of details besides findings: facts, drawings, the installation sequence, and what a submittal changes.

use std::path::PathBuf;

use clap::builder::PossibleValue;

/// Show everything that headlap derives, to check it by hand: laps, water paths, what is continuous across each joint, and
/// the numbers of each assembly.
#[derive(clap::Args)]
pub struct Facts {
    /// Files, or folders to search for *.detail files.
    #[arg(value_name = "PATH", required = true)]
    pub paths: Vec<PathBuf>,
    /// Set the output format: text for people, json for programs.
    #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "json"])]
    pub format: String,
    /// Show only the details and assemblies with this name; repeat it for several.
    #[arg(long, value_name = "NAME")]
    pub only: Vec<String>,
}

/// Draw a section and an elevation of each detail, with its water paths and findings, and each assembly with its moisture.
///
/// Each drawing is an SVG file: NAME-section.svg for the section, NAME-face.svg for the elevation, and NAME-assembly.svg for
/// an assembly.
#[derive(clap::Args)]
pub struct Draw {
    /// Files, or folders to search for *.detail files.
    #[arg(value_name = "PATH", required = true)]
    pub paths: Vec<PathBuf>,
    /// Write into this folder; create it if it does not exist.
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// Show only the details and assemblies with this name; repeat it for several.
    #[arg(long, value_name = "NAME")]
    pub only: Vec<String>,
    /// Draw each detail as a sheet with a frame and title block, and collect all sheets in one PDF file, sheets.pdf.
    #[arg(long, value_name = "SIZE", value_parser = [PossibleValue::new("A3").alias("a3"), PossibleValue::new("ansi-b")])]
    pub sheet: Option<String>,
    /// Set the format of the drawings: svg for web pages, dxf for drawing programs. DXF holds the section and elevation of a detail at true size.
    #[arg(long, value_name = "FORMAT", default_value = "svg", value_parser = ["svg", "dxf"], conflicts_with = "sheet")]
    pub format: String,
    /// Cut sections at this place along the face, such as "120 mm"; cut plans at this height. Default: where the most findings are.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub at: Option<String>,
}

/// Print the installation sequence of each detail, step by step, with what to check before it is covered.
#[derive(clap::Args)]
pub struct Sequence {
    /// Files, or folders to search for *.detail files.
    #[arg(value_name = "PATH", required = true)]
    pub paths: Vec<PathBuf>,
    /// Set the output format: text for a terminal, markdown for a handbook or an issue tracker.
    #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "markdown"])]
    pub format: String,
    /// Print only the details with this name; repeat it for several.
    #[arg(long, value_name = "NAME")]
    pub only: Vec<String>,
}

/// Compare a submittal with the issued details: what it changes, and which findings are new.
///
/// The settings and rules of the issued side judge both sides. Exit status: 1 when a new or worse finding reaches the
/// failing level, or when some text could not be read.
#[derive(clap::Args)]
pub struct Compare {
    /// The issued file or folder.
    #[arg(value_name = "ISSUED")]
    pub issued: PathBuf,
    /// The submitted file or folder.
    #[arg(value_name = "SUBMITTED")]
    pub submitted: PathBuf,
    /// Set the output format: text for a terminal, json for programs, html for one page with the reviewer's sheet.
    #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = ["text", "json", "html"])]
    pub format: String,
    /// Write to this file instead of standard output.
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Fail on new findings at this level and above: error, warning, note, or never.
    #[arg(long, value_name = "LEVEL", value_parser = ["error", "warning", "note", "never"])]
    pub fail_on: Option<String>,
    /// Print this project name on the sheet.
    #[arg(long, value_name = "NAME")]
    pub project: Option<String>,
    /// Print this submittal number on the sheet.
    #[arg(long, value_name = "NUMBER")]
    pub submittal: Option<String>,
    /// Print this date on the sheet instead of today.
    #[arg(long, value_name = "DATE")]
    pub date: Option<String>,
}
