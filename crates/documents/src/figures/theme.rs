//! Tones, sizes and rules of the drawings, as a value: the same figure is drawn for paper, for a daylight screen and for a dark one.

/// How a figure is to look. Lengths are in the figure's own units: points on paper, pixels on a screen.
#[derive(Clone, Debug, PartialEq)]
pub struct Theme {
    /// Ground behind everything.
    pub paper: &'static str,
    /// Words and outlines.
    pub ink: &'static str,
    /// Second words.
    pub pencil: &'static str,
    /// Thin rules that may be overlooked.
    pub graphite: &'static str,
    /// Grid and tints' edges.
    pub chalk: &'static str,
    /// Ground of weekends.
    pub tint: &'static str,
    /// The one accent: today, the chosen, what asks for action.
    pub ochre: &'static str,
    /// Stone.
    pub stone: &'static str,
    /// Lines on stone.
    pub stone_line: &'static str,
    /// Scud coat.
    pub scud: &'static str,
    /// Straightening coat.
    pub straightening: &'static str,
    /// Finish coat.
    pub finish: &'static str,
    /// Sand grains and measures of sand.
    pub sand: &'static str,
    /// Limewash and measures of lime.
    pub lime: &'static str,
    /// Hessian.
    pub hessian: &'static str,
    /// Water and damping.
    pub water: &'static str,
    /// Ground of water.
    pub water_wash: &'static str,
    /// Lime still caustic: lines.
    pub madder: &'static str,
    /// Lime still caustic: ground.
    pub madder_wash: &'static str,
    /// Size of ordinary words.
    pub size: f64,
    /// Thin rule.
    pub rule: f64,
    /// Rule round what is cut by a section.
    pub heavy: f64,
    /// Width a figure may take.
    pub wide: f64,
    /// True if the unit is the point, so that a drawing scale may be named.
    pub on_paper: bool,
}

impl Theme {
    /// For the typeset documents, `wide` points across.
    pub fn paper(wide: f64) -> Self {
        Self { paper: "#FFFFFF", size: 7.4, rule: 0.5, heavy: 1.1, wide, on_paper: true, ..Self::daylight(wide) }
    }

    /// For a screen in daylight, `wide` pixels across.
    pub fn daylight(wide: f64) -> Self {
        Self {
            paper: "#FBF9F3",
            ink: "#20282E",
            pencil: "#4F595F",
            graphite: "#7C776C",
            chalk: "#D6D1C4",
            tint: "#F2EEE3",
            ochre: "#98460F",
            stone: "#D9D9D3",
            stone_line: "#73787A",
            scud: "#C3A57D",
            straightening: "#DBC59D",
            finish: "#EBDFC4",
            sand: "#E0BE83",
            lime: "#F7F4EA",
            hessian: "#7A5C2E",
            water: "#2F5B6B",
            water_wash: "#C9DADF",
            madder: "#8E3A4D",
            madder_wash: "#F4E0E1",
            size: 12.5,
            rule: 1.0,
            heavy: 2.0,
            wide,
            on_paper: false,
        }
    }

    /// For a screen in the dark, `wide` pixels across. Materials keep their hue and are dimmed, so that a hatch stays legible.
    pub fn dark(wide: f64) -> Self {
        Self {
            paper: "#14191D",
            ink: "#ECE8DD",
            pencil: "#B4B9BB",
            graphite: "#8E9497",
            chalk: "#3A4247",
            tint: "#1C2328",
            ochre: "#F0A566",
            stone: "#4A5155",
            stone_line: "#A2A8AA",
            scud: "#6E5A40",
            straightening: "#857350",
            finish: "#9C8F6E",
            sand: "#B5935A",
            lime: "#D8D4C8",
            hessian: "#C9A46A",
            water: "#8FC4D6",
            water_wash: "#274048",
            madder: "#E58AA0",
            madder_wash: "#43252E",
            ..Self::daylight(wide)
        }
    }
}
