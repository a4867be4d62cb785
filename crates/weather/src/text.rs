//! Text of a weather file from its bytes, and fields from its lines.

use std::borrow::Cow;

/// How a file was encoded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Encoding {
    /// UTF-8, with or without a byte-order mark.
    Utf8,
    /// Latin-1 (ISO 8859-1), taken when the bytes are not UTF-8.
    Latin1,
}

/// The text of a file: UTF-8 if it is that, otherwise Latin-1, in which every byte is a letter.
pub fn decode(bytes: &[u8]) -> (Cow<'_, str>, Encoding) {
    match std::str::from_utf8(bytes) {
        Ok(text) => (Cow::Borrowed(text.trim_start_matches('\u{feff}')), Encoding::Utf8),
        Err(_) => (Cow::Owned(bytes.iter().map(|byte| *byte as char).collect()), Encoding::Latin1),
    }
}

/// The fields of a line between delimiters; a delimiter inside double quotes does not part, and the quotes are taken off.
pub(crate) fn fields(line: &str, delimiter: char) -> Vec<&str> {
    let (mut found, mut start, mut quoted) = (Vec::new(), 0, false);
    for (index, letter) in line.char_indices() {
        if letter == '"' {
            quoted = !quoted;
        } else if letter == delimiter && !quoted {
            found.push(bare(&line[start..index]));
            start = index + letter.len_utf8();
        }
    }
    found.push(bare(&line[start..]));
    found
}

fn bare(field: &str) -> &str {
    let field = field.trim();
    field.strip_prefix('"').and_then(|inner| inner.strip_suffix('"')).unwrap_or(field)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quotes_and_latin_letters() {
        assert_eq!(fields("a, \"b,c\" ,,d", ','), ["a", "b,c", "", "d"]);
        assert_eq!(fields("1,5;2", ';'), ["1,5", "2"]);
        let (text, encoding) = decode(b"M\xe4rz");
        assert_eq!((text.as_ref(), encoding), ("März", Encoding::Latin1));
        assert_eq!(decode("\u{feff}März".as_bytes()), (Cow::Borrowed("März"), Encoding::Utf8));
    }
}
