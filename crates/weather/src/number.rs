//! Numbers from bytes: plain decimals as weather files write them, faster than the general parser and rounded the same.

/// Powers of ten that a binary number holds exactly.
const TENS: [f64; 16] = [1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];

/// The number written in `bytes` (sign, digits, one decimal mark, or an exponent), surrounded by spaces or not. `None` if it is none or not finite.
pub(crate) fn decimal(bytes: &[u8], mark: u8) -> Option<f64> {
    let bytes = bytes.trim_ascii();
    let (negative, digits) = match bytes.first()? {
        b'-' => (true, &bytes[1..]),
        b'+' => (false, &bytes[1..]),
        _ => (false, bytes),
    };
    let (mut whole, mut after, mut seen_mark, mut count) = (0u64, 0usize, false, 0usize);
    for &byte in digits {
        if byte.is_ascii_digit() {
            whole = whole.wrapping_mul(10).wrapping_add(u64::from(byte - b'0'));
            count += 1;
            after += usize::from(seen_mark);
        } else if byte == mark && !seen_mark {
            seen_mark = true;
        } else {
            return general(bytes, mark);
        }
    }
    // Fifteen digits fit a binary number exactly, so one division rounds once, as the general parser does.
    if count == 0 || count > 15 {
        return general(bytes, mark);
    }
    let amount = whole as f64 / TENS[after];
    Some(if negative { -amount } else { amount })
}

fn general(bytes: &[u8], mark: u8) -> Option<f64> {
    let text = std::str::from_utf8(bytes).ok()?;
    let plain = bytes.iter().all(|byte| byte.is_ascii_digit() || *byte == mark || b"+-eE".contains(byte));
    if !plain {
        return None;
    }
    let pointed = if mark == b'.' { text.parse() } else { text.replace(mark as char, ".").parse() };
    pointed.ok().filter(|number: &f64| number.is_finite())
}

/// A whole number that may carry a sign; `None` if it is none or longer than nine digits.
pub(crate) fn whole(bytes: &[u8]) -> Option<i32> {
    let bytes = bytes.trim_ascii();
    let (negative, digits) = match bytes.first()? {
        b'-' => (true, &bytes[1..]),
        _ => (false, bytes),
    };
    if digits.is_empty() || digits.len() > 9 {
        return None;
    }
    let mut amount = 0i32;
    for &byte in digits {
        if !byte.is_ascii_digit() {
            return None;
        }
        amount = amount * 10 + i32::from(byte - b'0');
    }
    Some(if negative { -amount } else { amount })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn agrees_with_the_general_parser() {
        for text in ["0", "-0", "12.3", "+4", ".5", "5.", "0.1", "-999.9", "123456789012345", "1.23456789012345678", "1e3", "2.5E-4"] {
            assert_eq!(decimal(text.as_bytes(), b'.').map(f64::to_bits), text.parse::<f64>().ok().map(f64::to_bits), "{text}");
        }
        for text in ["", "-", ".", "1.2.3", "nan", "inf", "12a", "0x1", "1 2"] {
            assert_eq!(decimal(text.as_bytes(), b'.'), None, "{text}");
        }
        assert_eq!(decimal(b" 3,25 ", b','), Some(3.25));
        assert_eq!(whole(b" -12"), Some(-12));
        assert_eq!(whole(b"1.0"), None);
    }
}
