//! Monthly means as a climate block of the language.

use crate::physics::hourly::MonthlyMeans;

const MONTHS: [&str; 12] = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

/// A climate block that can be pasted into a library. The zone and the room are not in a weather table; they stand as
/// comments for the author to settle.
pub fn climate(name: &str, from: &str, means: &MonthlyMeans) -> String {
    let title = from.replace('\\', "\\\\").replace('"', "\\\"");
    let title: String = title.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    let mut block = format!("climate {name} \"Monthly means of {title}, {} hours\" {{\n", means.hours);
    block.push_str(
        "  # zone 6A                      the climate zone of the energy code, for rules that depend on it\n",
    );
    block.push_str("  # indoor 20 C 50 %             or a humidity class: indoor class 3\n");
    for (month, mean) in MONTHS.iter().zip(means.months) {
        block.push_str(&format!("  outdoor {month} {:.1} C {:.1} %\n", mean.temperature, 100.0 * mean.humidity));
    }
    block.push_str("}\n");
    block
}
