//! PLY: ASCII and binary of both byte orders, the element of vertices with x, y and z anywhere among its properties. It streams over the bytes and
//! keeps nothing but the points; it must never trust a count that the file cannot hold.

use super::ScanError;
use super::points::Cloud;

/// Longest header, bytes.
const LONGEST_HEADER: usize = 64 * 1024;

#[derive(Clone, Copy, PartialEq)]
enum Order {
    Text,
    Little,
    Big,
}

#[derive(Clone, Copy)]
enum Kind {
    Signed(usize),
    Unsigned(usize),
    Float,
    Double,
}

impl Kind {
    fn of(word: &str) -> Option<Self> {
        Some(match word {
            "char" | "int8" => Self::Signed(1),
            "short" | "int16" => Self::Signed(2),
            "int" | "int32" => Self::Signed(4),
            "uchar" | "uint8" => Self::Unsigned(1),
            "ushort" | "uint16" => Self::Unsigned(2),
            "uint" | "uint32" => Self::Unsigned(4),
            "float" | "float32" => Self::Float,
            "double" | "float64" => Self::Double,
            _ => return None,
        })
    }

    fn bytes(self) -> usize {
        match self {
            Self::Signed(bytes) | Self::Unsigned(bytes) => bytes,
            Self::Float => 4,
            Self::Double => 8,
        }
    }

    /// The number that the bytes hold.
    fn number(self, bytes: &[u8], order: Order) -> f64 {
        let mut wide = [0_u8; 8];
        for (place, byte) in bytes.iter().enumerate() {
            wide[if order == Order::Big { bytes.len() - 1 - place } else { place }] = *byte;
        }
        let whole = u64::from_le_bytes(wide);
        match self {
            Self::Unsigned(_) => whole as f64,
            Self::Signed(bytes) => {
                let spare = 64 - 8 * bytes as u32;
                (((whole << spare) as i64) >> spare) as f64
            }
            Self::Float => f64::from(f32::from_bits(whole as u32)),
            Self::Double => f64::from_bits(whole),
        }
    }
}

struct Header {
    order: Order,
    points: u64,
    /// Kind and offset in bytes and in columns of x, y and z.
    axes: [(Kind, usize, usize); 3],
    record_bytes: usize,
    columns: usize,
    body: usize,
}

/// Reads a PLY.
pub(super) fn read(bytes: &[u8], name: &str) -> Result<Cloud, ScanError> {
    let header = header(bytes).map_err(|found| ScanError::Header { name: name.to_owned(), format: "PLY", found })?;
    let body = &bytes[header.body..];
    let held = body.len() / header.record_bytes.max(1);
    let promised = usize::try_from(header.points).unwrap_or(usize::MAX);
    let mut cloud = Cloud::new("PLY", None, promised.min(held.max(body.len() / 6)));
    let found = if header.order == Order::Text {
        read_text(body, &header, &mut cloud, name)?
    } else {
        for record in body.chunks_exact(header.record_bytes).take(promised) {
            let point = header.axes.map(|(kind, offset, _)| kind.number(&record[offset..offset + kind.bytes()], header.order));
            cloud.push(point, name)?;
        }
        held.min(promised) as u64
    };
    if found < header.points {
        return Err(ScanError::Truncated { name: name.to_owned(), promised: header.points, found });
    }
    Ok(cloud)
}

fn read_text(body: &[u8], header: &Header, cloud: &mut Cloud, name: &str) -> Result<u64, ScanError> {
    let mut found = 0;
    for (number, line) in body.split(|byte| *byte == b'\n').enumerate() {
        if found == header.points {
            break;
        }
        let line = String::from_utf8_lossy(line);
        let cells: Vec<&str> = line.split_ascii_whitespace().take(header.columns).collect();
        if cells.is_empty() {
            continue;
        }
        let point = header.axes.map(|(_, _, column)| cells.get(column).and_then(|cell| cell.parse::<f64>().ok()));
        let [Some(x), Some(y), Some(z)] = point else {
            let found = line.chars().take(60).collect();
            return Err(ScanError::Line { name: format!("{name}, after its header"), line: number + 1, found });
        };
        cloud.push([x, y, z], name)?;
        found += 1;
    }
    Ok(found)
}

/// Reads the header; what is wrong with it in words.
fn header(bytes: &[u8]) -> Result<Header, String> {
    let reach = &bytes[..bytes.len().min(LONGEST_HEADER)];
    let mark = b"end_header";
    let end = reach.windows(mark.len()).position(|part| part == mark).ok_or("it has no end_header")?;
    let line_end = reach[end..].iter().position(|byte| *byte == b'\n').ok_or("nothing follows end_header")?;
    let text = std::str::from_utf8(&reach[..end]).map_err(|_| "it is not text")?;
    let mut header =
        Header { order: Order::Text, points: 0, axes: [(Kind::Float, 0, 0); 3], record_bytes: 0, columns: 0, body: end + line_end + 1 };
    let (mut format, mut element, mut axes) = (None, "", [false; 3]);
    for line in text.lines() {
        let words: Vec<&str> = line.split_ascii_whitespace().collect();
        match words[..] {
            ["format", order, _] => format = Some(order_of(order)?),
            ["element", kind, count] => {
                if kind != "vertex" && axes == [false; 3] && header.points == 0 {
                    return Err(format!("the element {kind} stands before the vertices"));
                }
                element = kind;
                if kind == "vertex" {
                    header.points = count.parse().map_err(|_| format!("“{count}” is no number of points"))?;
                }
            }
            ["property", "list", ..] if element == "vertex" => return Err("the vertices hold a list".to_owned()),
            ["property", kind, axis] if element == "vertex" => {
                let kind = Kind::of(kind).ok_or_else(|| format!("“{kind}” is no kind of number"))?;
                if let Some(place) = ["x", "y", "z"].iter().position(|known| *known == axis) {
                    header.axes[place] = (kind, header.record_bytes, header.columns);
                    axes[place] = true;
                }
                header.record_bytes += kind.bytes();
                header.columns += 1;
            }
            _ => {}
        }
    }
    header.order = format.ok_or("it names no format")?;
    if axes == [true; 3] { Ok(header) } else { Err("its vertices lack x, y or z".to_owned()) }
}

fn order_of(word: &str) -> Result<Order, String> {
    match word {
        "ascii" => Ok(Order::Text),
        "binary_little_endian" => Ok(Order::Little),
        "binary_big_endian" => Ok(Order::Big),
        _ => Err(format!("“{word}” is no format of PLY")),
    }
}
