//! The order as a table for any spreadsheet: RFC 4180, UTF-8, text cells made safe against being read as formulas.

use works::{OrderLine, Plan};

/// Columns of the table.
pub const COLUMNS: [&str; 8] = ["on site by", "units", "unit", "material", "need", "first used for", "remark", "catalogue name"];

/// The order as RFC 4180 CSV with CRLF line ends and a header row, a line for each thing to be on site and for each thing to be laid down.
/// A text cell that starts with `=`, `+`, `-`, `@`, a tab or a line break is prefixed with an apostrophe.
pub fn order_csv(plan: &Plan) -> Vec<u8> {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let laid = plan.order.lay_down.iter().map(|lay| {
        [
            lay.by.to_string(),
            String::new(),
            String::new(),
            safe(&lay.what),
            String::new(),
            "laid down to mature".to_owned(),
            safe(&lay.why),
            String::new(),
        ]
    });
    let rows = std::iter::once(COLUMNS.map(str::to_owned)).chain(laid).chain(plan.order.lines.iter().map(row));
    for row in rows {
        if writer.write_record(&row).is_err() {
            break;
        }
    }
    writer.into_inner().unwrap_or_default()
}

fn row(line: &OrderLine) -> [String; 8] {
    [
        line.on_site_by.to_string(),
        line.units.to_string(),
        safe(&line.unit_name),
        safe(&line.name),
        safe(&line.need),
        safe(&line.first_used_for),
        safe(&line.remark),
        safe(&line.slug),
    ]
}

/// Text that no spreadsheet takes for a formula.
fn safe(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']) { format!("'{text}") } else { text.to_owned() }
}
