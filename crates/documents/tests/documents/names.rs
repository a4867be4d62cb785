//! Names for the walls of an invented plan: short, long, or full of marks that a typesetter or a browser would read as its own.

/// How the names of the plan are to be.
#[derive(Clone, Copy, PartialEq)]
pub enum Names {
    Short,
    Long,
    Markup,
}

const SHORT: [&str; 8] = ["North wall", "East gable", "South wall", "West gable", "Byre front", "Byre end", "Privy", "Garden wall"];

/// Name of the wall of a number.
pub fn wall_name(index: usize, names: Names) -> String {
    match names {
        Names::Short => SHORT[index % 8].to_owned(),
        Names::Long => format!("{} behind the former boiling house and net store", SHORT[index % 8]),
        Names::Markup => format!("{} #strong[$x$] *<b>&amp; \"q\" @ref \\ _u_ `c`", SHORT[index % 8]),
    }
}
