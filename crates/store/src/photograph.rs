//! Photographs without the place and the device they were taken with. Segments of the picture itself are kept as they are, byte for byte; what
//! describes it is dropped, but for its colours and which way up it is. Written out here because readers of picture files keep what trails
//! after the image, where phones put a second picture with its own place in it.

use crate::StoreError;

/// A cleaned picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stripped {
    /// The picture.
    pub bytes: Vec<u8>,
    /// Its media type.
    pub media_type: &'static str,
}

/// Cleans a JPEG or PNG.
///
/// # Errors
/// When it is neither, or breaks off.
pub fn strip(bytes: &[u8]) -> Result<Stripped, StoreError> {
    if bytes.starts_with(&[0xff, 0xd8]) {
        return Ok(Stripped { bytes: jpeg(bytes)?, media_type: "image/jpeg" });
    }
    if bytes.starts_with(PNG) {
        return Ok(Stripped { bytes: png(bytes)?, media_type: "image/png" });
    }
    Err(StoreError::Picture("it is neither a JPEG nor a PNG"))
}

const PNG: &[u8] = b"\x89PNG\r\n\x1a\n";
/// Chunks of a PNG that make up the picture and its colours.
const PNG_KEPT: [&[u8; 4]; 17] = [
    b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"cHRM", b"gAMA", b"iCCP", b"sBIT", b"sRGB", b"cICP", b"bKGD", b"pHYs", b"sPLT", b"acTL",
    b"fcTL", b"fdAT",
];
const BROKEN: StoreError = StoreError::Picture("it breaks off");

fn png(bytes: &[u8]) -> Result<Vec<u8>, StoreError> {
    let mut kept = PNG.to_vec();
    let mut rest = &bytes[PNG.len()..];
    loop {
        let length = rest.get(..4).and_then(|length| length.try_into().ok()).map(u32::from_be_bytes).ok_or(BROKEN)?;
        let whole = (length as usize).checked_add(12).ok_or(BROKEN)?;
        let chunk = rest.get(..whole).ok_or(BROKEN)?;
        let kind = &chunk[4..8];
        if PNG_KEPT.iter().any(|known| known.as_slice() == kind) {
            kept.extend_from_slice(chunk);
        }
        if kind == b"IEND" {
            return Ok(kept);
        }
        rest = &rest[whole..];
    }
}

fn jpeg(bytes: &[u8]) -> Result<Vec<u8>, StoreError> {
    let mut kept = bytes[..2].to_vec();
    let mut turned = None;
    let mut body = Vec::new();
    let mut at = 2;
    loop {
        let marker = marker(bytes, &mut at)?;
        match marker {
            0xd9 => break,
            // Markers that stand alone.
            0x01 | 0xd0..=0xd7 => body.extend_from_slice(&[0xff, marker]),
            _ => {
                let segment = segment(bytes, at)?;
                at += segment.len();
                let payload = &segment[2..];
                if marker == 0xe1 {
                    turned = turned.or_else(|| orientation(payload));
                } else if is_picture(marker, payload) {
                    body.extend_from_slice(&[0xff, marker]);
                    body.extend_from_slice(segment);
                }
                if marker == 0xda {
                    let scan = scan(bytes, at)?;
                    at += scan.len();
                    body.extend_from_slice(scan);
                }
            }
        }
    }
    if let Some(turned) = turned {
        kept.extend_from_slice(&turned_only(turned));
    }
    kept.extend_from_slice(&body);
    kept.extend_from_slice(&[0xff, 0xd9]);
    Ok(kept)
}

/// The next marker; filling bytes are passed over.
fn marker(bytes: &[u8], at: &mut usize) -> Result<u8, StoreError> {
    if bytes.get(*at) != Some(&0xff) {
        return Err(StoreError::Picture("its parts do not follow on one another"));
    }
    while bytes.get(*at) == Some(&0xff) {
        *at += 1;
    }
    let marker = *bytes.get(*at).ok_or(BROKEN)?;
    *at += 1;
    Ok(marker)
}

/// A segment with its two bytes of length.
fn segment(bytes: &[u8], at: usize) -> Result<&[u8], StoreError> {
    let length = bytes.get(at..at + 2).and_then(|length| length.try_into().ok()).map(u16::from_be_bytes).ok_or(BROKEN)?;
    if length < 2 {
        return Err(BROKEN);
    }
    bytes.get(at..at + usize::from(length)).ok_or(BROKEN)
}

/// The coded picture up to the next marker that is no restart.
fn scan(bytes: &[u8], at: usize) -> Result<&[u8], StoreError> {
    let mut end = at;
    loop {
        let pair = bytes.get(end..end + 2).ok_or(BROKEN)?;
        if pair[0] == 0xff && !matches!(pair[1], 0x00 | 0xff | 0xd0..=0xd7) {
            return Ok(&bytes[at..end]);
        }
        end += 1;
    }
}

/// Tables, frames and scans; of what applications add, only the size of a pixel, the colour profile and how colours are coded.
fn is_picture(marker: u8, payload: &[u8]) -> bool {
    match marker {
        0xe0 => payload.starts_with(b"JFIF\0"),
        0xe2 => payload.starts_with(b"ICC_PROFILE\0"),
        0xee => payload.starts_with(b"Adobe"),
        0xe0..=0xef | 0xfe => false,
        _ => true,
    }
}

const EXIF: &[u8] = b"Exif\0\0";

/// Which way up the picture is, 2 to 8; `None` if it is upright or nothing is said.
fn orientation(payload: &[u8]) -> Option<u8> {
    let tiff = payload.strip_prefix(EXIF)?;
    let little = match tiff.get(..2)? {
        b"II" => true,
        b"MM" => false,
        _ => return None,
    };
    let short = |at: usize| {
        let pair: [u8; 2] = tiff.get(at..at.checked_add(2)?)?.try_into().ok()?;
        Some(if little { u16::from_le_bytes(pair) } else { u16::from_be_bytes(pair) })
    };
    let long = |at: usize| {
        let four: [u8; 4] = tiff.get(at..at.checked_add(4)?)?.try_into().ok()?;
        Some(if little { u32::from_le_bytes(four) } else { u32::from_be_bytes(four) } as usize)
    };
    let directory = long(4)?;
    let count = usize::from(short(directory)?);
    (0..count).find_map(|index| {
        let entry = directory.checked_add(2 + 12 * index)?;
        let turned = (short(entry)? == 0x0112).then(|| short(entry + 8))??;
        u8::try_from(turned).ok().filter(|turned| (2..=8).contains(turned))
    })
}

/// A segment that says which way up the picture is and nothing else.
fn turned_only(turned: u8) -> Vec<u8> {
    let tiff = [b'M', b'M', 0, 42, 0, 0, 0, 8, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, turned, 0, 0, 0, 0, 0, 0];
    let mut segment = vec![0xff, 0xe1, 0, (2 + EXIF.len() + tiff.len()) as u8];
    segment.extend_from_slice(EXIF);
    segment.extend_from_slice(&tiff);
    segment
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test that cannot read its picture must stop")]
    use super::*;
    use proptest::prelude::*;

    fn with_length(marker: u8, payload: &[u8]) -> Vec<u8> {
        let length = u16::try_from(payload.len() + 2).unwrap().to_be_bytes();
        [&[0xff, marker][..], &length, payload].concat()
    }

    /// A picture in two scans with place, maker and a comment in it, a second picture after its end, and a table holding the bytes of an end.
    fn phone_picture() -> Vec<u8> {
        let place = b"Exif\0\0II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0\x06\0\0\0\0\0\0\0 57.1497 N MAKER-X";
        let mut bytes = vec![0xff, 0xd8];
        bytes.extend(with_length(0xe0, b"JFIF\0\x01\x01\0\0\x01\0\x01\0\0"));
        bytes.extend(with_length(0xe1, place));
        bytes.extend(with_length(0xe2, b"MPF\0 MAKER-X"));
        bytes.extend(with_length(0xfe, b"MAKER-X"));
        bytes.extend(with_length(0xdb, &[1, 0xff, 0xd9, 2]));
        bytes.extend(with_length(0xda, &[1, 2, 3]));
        bytes.extend([7, 0xff, 0x00, 8, 0xff, 0xd1, 9]);
        bytes.extend(with_length(0xc4, &[0xff, 0xd9]));
        bytes.extend(with_length(0xed, b"Photoshop MAKER-X"));
        bytes.extend(with_length(0xda, &[4]));
        bytes.extend([10, 11, 0xff, 0xd9]);
        bytes.extend(b"\xff\xd8 second picture 57.1497 N");
        bytes
    }

    fn holds(bytes: &[u8], words: &[u8]) -> bool {
        bytes.windows(words.len()).any(|window| window == words)
    }

    #[test]
    fn place_and_device_are_gone_and_the_picture_is_kept_the_right_way_up() {
        let clean = strip(&phone_picture()).unwrap();
        assert!(!holds(&clean.bytes, b"57.1497") && !holds(&clean.bytes, b"MAKER-X") && !holds(&clean.bytes, b"second"));
        assert!(holds(&clean.bytes, &[7, 0xff, 0x00, 8, 0xff, 0xd1, 9]) && holds(&clean.bytes, &[10, 11, 0xff, 0xd9]));
        assert!(holds(&clean.bytes, &[1, 0xff, 0xd9, 2]), "a table that holds the bytes of an end is kept");
        assert_eq!(orientation(&clean.bytes[6..]), Some(6));
        assert_eq!(strip(&clean.bytes).unwrap(), clean, "cleaning twice is cleaning once");
    }

    #[test]
    fn a_png_keeps_its_picture_and_colours_alone() {
        let chunk = |kind: &[u8], data: &[u8]| [&u32::try_from(data.len()).unwrap().to_be_bytes()[..], kind, data, &[0; 4]].concat();
        let parts = [
            chunk(b"IHDR", &[1; 13]),
            chunk(b"eXIf", b"57.1497"),
            chunk(b"tEXt", b"MAKER-X"),
            chunk(b"IDAT", b"pixels"),
            chunk(b"IEND", b""),
        ];
        let mut bytes = PNG.to_vec();
        bytes.extend(parts.concat());
        bytes.extend(b"trailing 57.1497");
        let clean = strip(&bytes).unwrap();
        assert!(!holds(&clean.bytes, b"57.1497") && !holds(&clean.bytes, b"MAKER-X") && holds(&clean.bytes, b"pixels"));
        assert_eq!(clean.media_type, "image/png");
    }

    #[test]
    fn what_is_no_picture_or_breaks_off_is_refused() {
        let whole = phone_picture();
        for bytes in [&b"GIF89a"[..], b"", &whole[..40], &[0xff, 0xd8, 0xff, 0xda, 0, 1]] {
            assert!(strip(bytes).is_err());
        }
    }

    proptest! {
        #[test]
        fn no_bytes_make_it_panic(tail in proptest::collection::vec(any::<u8>(), 0..400), png in any::<bool>()) {
            let head: &[u8] = if png { PNG } else { &[0xff, 0xd8, 0xff] };
            let _ = strip(&[head, &tail].concat());
        }
    }
}
