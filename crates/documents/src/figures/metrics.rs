//! How wide words are before anything is drawn: advance widths of the shipped fonts, in thousandths of the size, so that labels can be
//! placed without the typesetter. Read from the fonts' own tables; a test compares them with the fonts when the typesetter is built in.

/// A face that words are set in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Face {
    /// Noto Sans Regular.
    Sans,
    /// Noto Sans Bold.
    SansBold,
    /// Libertinus Serif Regular.
    Serif,
    /// Libertinus Serif Semibold.
    SerifSemibold,
}

/// Width of `words` set in `face` at `size`, in the unit of `size`. Kerning is left out, so the estimate errs a little to the wide side;
/// characters outside the tables count as a wide letter.
pub fn width(words: &str, face: Face, size: f64) -> f64 {
    words.chars().map(|c| f64::from(advance(c, face))).sum::<f64>() * size / 1000.0
}

/// Breaks `words` at spaces into lines no wider than `room`; a single word wider than that stands alone on its line.
pub fn wrap(words: &str, face: Face, size: f64, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        match lines.last_mut() {
            Some(line) if width(line, face, size) + width(" ", face, size) + width(word, face, size) <= room => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// `words` cut to `room` with an ellipsis if they are wider.
pub fn cut(words: &str, face: Face, size: f64, room: f64) -> String {
    if width(words, face, size) <= room {
        return words.to_owned();
    }
    let mut kept: String = words.to_owned();
    while !kept.is_empty() && width(&kept, face, size) + width("…", face, size) > room {
        kept.pop();
    }
    format!("{}…", kept.trim_end())
}

/// Advance of one character, thousandths of the size.
fn advance(c: char, face: Face) -> u16 {
    let (latin, rest): (&[u16; 95], &[(char, u16)]) = match face {
        Face::Sans => (&SANS, &SANS_REST),
        Face::SansBold => (&SANS_BOLD, &SANS_BOLD_REST),
        Face::Serif => (&SERIF, &SERIF_REST),
        Face::SerifSemibold => (&SERIF_SEMIBOLD, &SERIF_SEMIBOLD_REST),
    };
    let code = c as usize;
    if (0x20..0x7f).contains(&code) {
        return latin[code - 0x20];
    }
    rest.iter().find(|(known, _)| *known == c).map_or(if code < 0x2e80 { 760 } else { 1000 }, |(_, advance)| *advance)
}

/// Noto Sans Regular, U+0020 to U+007E.
const SANS: [u16; 95] = [
    260, 269, 408, 646, 572, 831, 732, 225, 300, 300, 551, 572, 268, 322, 268, 372, 572, 572, 572, 572, 572, 572, 572, 572, 572, 572, 268,
    268, 572, 572, 572, 434, 899, 639, 650, 632, 730, 556, 519, 728, 741, 339, 273, 619, 524, 907, 760, 781, 605, 781, 622, 549, 556, 731,
    600, 930, 586, 566, 572, 329, 372, 329, 572, 444, 580, 561, 615, 480, 615, 564, 344, 615, 618, 258, 258, 534, 258, 935, 618, 605, 615,
    615, 413, 479, 361, 618, 508, 786, 529, 510, 470, 380, 551, 380, 572,
];
const SANS_REST: [(char, u16); 27] = [
    ('\u{a0}', 260),
    ('£', 572),
    ('°', 428),
    ('²', 350),
    ('³', 350),
    ('·', 268),
    ('×', 572),
    ('½', 790),
    ('¼', 790),
    ('¾', 790),
    ('é', 564),
    ('è', 564),
    ('ö', 605),
    ('ü', 618),
    ('ø', 605),
    ('å', 561),
    ('Å', 639),
    ('É', 556),
    ('–', 500),
    ('—', 1000),
    ('‘', 175),
    ('’', 175),
    ('“', 359),
    ('”', 359),
    ('…', 791),
    ('−', 572),
    ('€', 572),
];

/// Noto Sans Bold, U+0020 to U+007E.
const SANS_BOLD: [u16; 95] = [
    260, 286, 472, 646, 572, 901, 750, 266, 339, 339, 545, 572, 285, 322, 285, 413, 572, 572, 572, 572, 572, 572, 572, 572, 572, 572, 285,
    285, 572, 572, 572, 477, 897, 690, 672, 637, 740, 560, 549, 724, 765, 389, 331, 664, 565, 943, 813, 796, 628, 796, 660, 551, 579, 756,
    650, 967, 667, 624, 579, 331, 413, 331, 572, 411, 607, 604, 633, 514, 633, 591, 387, 633, 657, 305, 305, 620, 305, 982, 657, 619, 633,
    633, 454, 497, 434, 657, 569, 856, 578, 569, 488, 394, 551, 394, 572,
];
const SANS_BOLD_REST: [(char, u16); 27] = [
    ('\u{a0}', 260),
    ('£', 572),
    ('°', 428),
    ('²', 379),
    ('³', 379),
    ('·', 285),
    ('×', 572),
    ('½', 881),
    ('¼', 881),
    ('¾', 881),
    ('é', 591),
    ('è', 591),
    ('ö', 619),
    ('ü', 657),
    ('ø', 619),
    ('å', 604),
    ('Å', 690),
    ('É', 560),
    ('–', 500),
    ('—', 1000),
    ('‘', 217),
    ('’', 217),
    ('“', 445),
    ('”', 445),
    ('…', 855),
    ('−', 572),
    ('€', 572),
];

/// Libertinus Serif Regular, U+0020 to U+007E.
const SERIF: [u16; 95] = [
    250, 288, 336, 465, 465, 637, 705, 190, 298, 298, 369, 550, 220, 338, 220, 323, 465, 465, 465, 465, 465, 465, 465, 465, 465, 465, 236,
    236, 550, 550, 550, 435, 895, 695, 588, 646, 701, 557, 485, 685, 730, 297, 322, 637, 528, 839, 699, 702, 541, 702, 587, 485, 597, 661,
    652, 951, 660, 575, 604, 356, 287, 356, 518, 486, 392, 457, 493, 428, 506, 447, 310, 500, 538, 271, 272, 512, 264, 790, 542, 504, 519,
    503, 372, 390, 316, 531, 497, 747, 490, 515, 424, 277, 205, 277, 449,
];
const SERIF_REST: [(char, u16); 27] = [
    ('\u{a0}', 250),
    ('£', 465),
    ('°', 267),
    ('²', 307),
    ('³', 307),
    ('·', 250),
    ('×', 550),
    ('½', 660),
    ('¼', 660),
    ('¾', 660),
    ('é', 447),
    ('è', 447),
    ('ö', 504),
    ('ü', 531),
    ('ø', 504),
    ('å', 457),
    ('Å', 695),
    ('É', 557),
    ('–', 548),
    ('—', 742),
    ('‘', 268),
    ('’', 268),
    ('“', 375),
    ('”', 375),
    ('…', 749),
    ('−', 550),
    ('€', 465),
];

/// Libertinus Serif Semibold, U+0020 to U+007E.
const SERIF_SEMIBOLD: [u16; 95] = [
    250, 244, 366, 463, 438, 637, 729, 215, 315, 315, 433, 537, 244, 358, 244, 316, 490, 490, 490, 490, 490, 490, 490, 490, 490, 490, 219,
    219, 512, 551, 512, 430, 988, 699, 620, 666, 718, 562, 513, 727, 723, 319, 380, 660, 538, 853, 710, 730, 550, 730, 609, 475, 597, 678,
    636, 998, 708, 617, 624, 375, 307, 375, 518, 486, 392, 476, 505, 435, 527, 461, 336, 508, 550, 286, 289, 523, 289, 801, 563, 519, 523,
    518, 401, 401, 331, 550, 527, 778, 521, 533, 432, 306, 220, 306, 473,
];
const SERIF_SEMIBOLD_REST: [(char, u16); 27] = [
    ('\u{a0}', 250),
    ('£', 463),
    ('°', 267),
    ('²', 332),
    ('³', 332),
    ('·', 301),
    ('×', 527),
    ('½', 660),
    ('¼', 660),
    ('¾', 660),
    ('é', 461),
    ('è', 461),
    ('ö', 519),
    ('ü', 550),
    ('ø', 519),
    ('å', 476),
    ('Å', 699),
    ('É', 562),
    ('–', 534),
    ('—', 742),
    ('‘', 268),
    ('’', 268),
    ('“', 375),
    ('”', 375),
    ('…', 749),
    ('−', 537),
    ('€', 463),
];
