//! What can go wrong in the engine, as sentences that say where, what was found, what is allowed and what to do.

use thiserror::Error;

/// An error of the engine. A failing member stops alone; its fellows run on.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum CuringError {
    /// A value that describes the wall, a coat, a material or a step lies outside what can be computed.
    #[error("{place}: {what} is {found}, and must be {allowed}. {remedy}")]
    OutOfRange {
        /// Where: "the wall", "coat 2", "layer 3".
        place: String,
        /// The quantity in words, with its unit.
        what: String,
        /// What was found.
        found: f64,
        /// What is allowed, in words.
        allowed: String,
        /// What to do.
        remedy: String,
    },
    /// A material function does not behave as the model needs.
    #[error("Material {material}: {fault}. {remedy}")]
    Material {
        /// Its name.
        material: String,
        /// What was found.
        fault: String,
        /// What to do.
        remedy: String,
    },
    /// The climate cannot be run.
    #[error("The climate of the face: {fault}. {remedy}")]
    Climate {
        /// What was found.
        fault: String,
        /// What to do.
        remedy: String,
    },
    /// An action that cannot be taken as things stand.
    #[error("In hour {hour}: {action} is not possible because {because}. {remedy}")]
    Action {
        /// Hour index into the climate.
        hour: usize,
        /// The action in words.
        action: String,
        /// Why not.
        because: String,
        /// What to do.
        remedy: String,
    },
    /// There is no such member.
    #[error("Member {member} does not exist: the bench has {members}. Use 0 to {}.", members.saturating_sub(1))]
    NoMember {
        /// The member asked for.
        member: usize,
        /// How many there are.
        members: usize,
    },
    /// A step did not converge however short it was made: this member stops here.
    #[error(
        "The solution was lost in hour {hour}, {depth_mm:.1} mm behind the outer face, where a step of {step_s:.2} s did not converge. \
         This run stops here; the others go on. Look at the weather and the coat of that hour; if they are sound, run with a finer grid."
    )]
    NotConverged {
        /// Hour index into the climate.
        hour: usize,
        /// Depth of the worst point behind the outer face, mm.
        depth_mm: f64,
        /// Shortest step tried, s.
        step_s: f64,
    },
    /// The member was stopped by the caller.
    #[error("Member {member} was stopped and takes no more actions. Start a new bench to run it again.")]
    Stopped {
        /// The member.
        member: usize,
    },
}
