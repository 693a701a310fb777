//! Every error of the library, typed.

use crate::quantity::QuantityError;

/// A part's parameter that cannot be used.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PartError {
    /// The number is outside what the part allows.
    #[error("`{argument}` is {value}, but must be {allowed}")]
    Range {
        /// The argument.
        argument: String,
        /// The value given, with its unit.
        value: String,
        /// What is allowed: "above 0 ohm".
        allowed: String,
    },
    /// The text is not a number with the right unit.
    #[error("`{argument}`: {source}")]
    Quantity {
        /// The argument.
        argument: String,
        /// What is wrong with it.
        source: QuantityError,
    },
    /// A value of a description that does not read.
    #[error("{argument}: {problem}")]
    Unreadable {
        /// The argument.
        argument: String,
        /// What is wrong with it.
        problem: String,
    },
    /// Parameters that do not fit each other, or a description that does not read.
    #[error("{problem}; {advice}")]
    Description {
        /// What does not fit.
        problem: String,
        /// What to do.
        advice: String,
    },
}

impl PartError {
    /// `argument` is outside its range.
    pub fn range(argument: &str, value: impl std::fmt::Display, allowed: &str) -> Self {
        Self::Range { argument: argument.into(), value: value.to_string(), allowed: allowed.into() }
    }
}

/// What is wrong with how a circuit is put together.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum TopologyError {
    /// The name is taken.
    #[error("there is already a part named \"{part}\"; choose another name")]
    DuplicatePart {
        /// The name.
        part: String,
    },
    /// The terminal does not exist.
    #[error("part \"{part}\" ({kind}) has no terminal \"{terminal}\"; it has {known}")]
    UnknownTerminal {
        /// The part.
        part: String,
        /// Its kind.
        kind: String,
        /// The name given.
        terminal: String,
        /// The terminals it has.
        known: String,
    },
    /// A terminal was left out.
    #[error("terminal \"{terminal}\" of part \"{part}\" ({kind}) is not connected; give it a node")]
    Unconnected {
        /// The part.
        part: String,
        /// Its kind.
        kind: String,
        /// The terminal.
        terminal: String,
    },
    /// A node joins electrical and mechanical terminals.
    #[error("node \"{node}\" joins an electrical terminal and a shaft (part \"{part}\"); use another node name")]
    MixedNode {
        /// The node.
        node: String,
        /// The part added last.
        part: String,
    },
    /// The part does not exist.
    #[error("there is no part \"{part}\"; {known}")]
    UnknownPart {
        /// The name asked for.
        part: String,
        /// Names that exist.
        known: String,
    },
    /// The node does not exist.
    #[error("there is no node \"{node}\"; {known}")]
    UnknownNode {
        /// The name asked for.
        node: String,
        /// Names that exist.
        known: String,
    },
    /// The state does not exist.
    #[error("part \"{part}\" has no state \"{state}\"; it has {known}")]
    UnknownState {
        /// The part.
        part: String,
        /// The name asked for.
        state: String,
        /// States it has.
        known: String,
    },
    /// The part sits on no shaft.
    #[error("part \"{part}\" has no shaft to attach to; attach loads to a motor")]
    NoShaft {
        /// The part.
        part: String,
    },
    /// Nothing is connected to the reference.
    #[error("no part is connected to the reference node \"{reference}\"; connect one terminal to it")]
    NoReference {
        /// The reference node.
        reference: String,
    },
    /// No direct current can reach the nodes.
    #[error(
        "node {nodes} floats: no path for a direct current leads from there to \"{reference}\" (only {parts}); add a path, for example a resistor"
    )]
    Floating {
        /// The nodes.
        nodes: String,
        /// The reference node.
        reference: String,
        /// The parts that end there.
        parts: String,
    },
    /// Ideal voltage sources in a loop.
    #[error("ideal voltage sources form a loop: {parts}; add a resistance to one of them")]
    SourceLoop {
        /// The parts.
        parts: String,
    },
    /// Nodes that only ideal current sources reach.
    #[error("only ideal current sources reach node {nodes}: {parts}; add a path beside one of them")]
    CurrentCut {
        /// The nodes.
        nodes: String,
        /// The parts.
        parts: String,
    },
    /// A shaft without inertia.
    #[error("shaft \"{shaft}\" has no inertia ({parts}); give one of its parts an inertia above zero")]
    NoInertia {
        /// The shaft.
        shaft: String,
        /// The parts on it.
        parts: String,
    },
    /// The state of another circuit was given as a start.
    #[error("the start state belongs to another circuit: {difference}")]
    OtherCircuit {
        /// What differs.
        difference: String,
    },
}

/// Any error of the library.
#[derive(Debug, Clone, thiserror::Error)]
pub enum Error {
    /// A part's parameter.
    #[error("part \"{part}\" ({kind}): {source}")]
    Part {
        /// The part's name.
        part: String,
        /// Its kind.
        kind: String,
        /// What is wrong.
        source: PartError,
    },
    /// A part that cannot be made from its description.
    #[error("{kind}: {source}")]
    NewPart {
        /// The kind, as the description names it.
        kind: String,
        /// What is wrong.
        source: PartError,
    },
    /// A kind of part that does not exist.
    #[error("there is no part of the kind \"{kind}\"; known are {known}")]
    UnknownKind {
        /// The kind asked for.
        kind: String,
        /// Kinds that exist.
        known: String,
    },
    /// A parameter of something not yet in a circuit.
    #[error(transparent)]
    Parameter(#[from] PartError),
    /// How a circuit is put together.
    #[error(transparent)]
    Topology(#[from] TopologyError),
    /// The equations could not be solved.
    #[error("{source}")]
    Solve {
        /// What the solver says.
        source: stallpoint_solve::SolveError,
        /// What was computed before, if anything.
        partial: Option<Box<crate::circuit::Run>>,
    },
    /// Parts that keep switching.
    #[error(
        "there is no operating point: switching never ends in {parts} (as when a contactor chatters, or a shaft starts and stops \
         by turns); look at a transient instead"
    )]
    NoEquilibrium {
        /// The parts.
        parts: String,
    },
    /// An argument of a study or a run.
    #[error("`{argument}` is {value}, but must be {allowed}")]
    Argument {
        /// The argument.
        argument: String,
        /// The value given.
        value: String,
        /// What is allowed.
        allowed: String,
    },
    /// A reading that no drive of this kind can show.
    #[error(
        "a reading of {reading} {unit} cannot be: \"{measurement}\" shows at most {} {unit} on this drive{hint}; it was not \
         entered, check the meter's range and give the unit",
        crate::report::number(*largest)
    )]
    ImplausibleReading {
        /// What was measured.
        measurement: String,
        /// The reading, in the unit.
        reading: f64,
        /// The largest that can be, in the unit.
        largest: f64,
        /// Unit of both.
        unit: &'static str,
        /// What it could have been meant to be; empty where nothing suggests itself.
        hint: String,
    },
    /// A drive file that does not read.
    #[error("line {line}, column {column}: {problem}")]
    DriveFile {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What is wrong there.
        problem: String,
    },
    /// A description that does not read.
    #[error("the description of the {what} does not read: {problem}")]
    Description {
        /// Of what.
        what: String,
        /// What is wrong.
        problem: String,
    },
    /// A value to change or to sweep.
    #[error("`{key}`: {problem}")]
    Value {
        /// The key.
        key: String,
        /// What is wrong.
        problem: String,
    },
    /// A file that cannot be read or written.
    #[error("file \"{path}\": {problem}; {advice}")]
    File {
        /// Its path.
        path: String,
        /// What the system says.
        problem: String,
        /// What to do.
        advice: &'static str,
    },
    /// What is wrong with a drive that was read from a file.
    #[error("file \"{path}\": {source}")]
    InFile {
        /// The file's path.
        path: String,
        /// What is wrong.
        source: Box<Error>,
    },
    /// A study whose watcher stopped it.
    #[error("the study was cancelled; its runs so far are not kept")]
    Cancelled,
    /// A part of the user's own that breaks the rule of fixed entries.
    #[error(
        "part \"{part}\" wrote a derivative that its first evaluation did not; touch the same entries in every mode, with zeros where nothing depends"
    )]
    Unannounced {
        /// The part.
        part: String,
    },
}

impl Error {
    pub(crate) fn part(part: &str, kind: &str, source: PartError) -> Self {
        Self::Part { part: part.into(), kind: kind.into(), source }
    }

    pub(crate) fn option(argument: &str, value: &str, allowed: &str) -> Self {
        Self::Argument { argument: argument.into(), value: value.into(), allowed: allowed.into() }
    }

    pub(crate) fn unannounced(part: &str) -> Self {
        Self::Unannounced { part: part.into() }
    }
}

impl From<stallpoint_solve::SolveError> for Error {
    fn from(source: stallpoint_solve::SolveError) -> Self {
        Self::Solve { source, partial: None }
    }
}
