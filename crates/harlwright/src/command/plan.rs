//! `harlwright plan`: the whole road, then the summary and the pack of documents.

use std::path::Path;

use crate::command::season;
use crate::failure::Failure;
use crate::files::{open, print, ready_folder, write_whole};
use crate::progress::Bar;
use crate::summary;

/// What is asked for beside the plan.
pub struct Asked {
    /// plan/1 instead of the summary.
    pub json: bool,
    /// Policies of protection compared.
    pub compare_protection: bool,
    /// Every start week of the year, for the proposal.
    pub season: bool,
}

/// Plans the job; prints the summary or JSON; writes the pack.
pub fn run(path: &Path, out: Option<&Path>, asked: &Asked, bar: &Bar) -> Result<(), Failure> {
    if let Some(folder) = out {
        ready_folder(folder)?;
    }
    let opened = open(path)?;
    let planning = if asked.compare_protection { works::plan_comparing_protection } else { works::plan };
    let plan = planning(&opened.job.inputs, opened.weather.as_ref(), bar);
    bar.clear();
    let plan = plan.map_err(Failure::from)?;
    let season = if asked.season { Some(season::reckoned(&opened, bar)?) } else { None };
    if asked.json {
        print(&documents::plan_json(&plan))?;
    } else {
        print(&summary::of(&plan, path))?;
    }
    if let Some(folder) = out {
        write_pack(&plan, season.as_ref(), folder)?;
    }
    Ok(())
}

fn write_pack(plan: &works::Plan, season: Option<&works::Season>, folder: &Path) -> Result<(), Failure> {
    let mut written = vec![
        write_whole(folder, "plan.json", documents::plan_json(plan).as_bytes())?,
        write_whole(folder, "order.csv", &documents::order_csv(plan))?,
        write_whole(folder, "programme.ics", documents::programme_ics(plan).as_bytes())?,
    ];
    written.extend(write_paper(plan, season, folder)?);
    let names: Vec<String> = written.iter().map(|path| path.display().to_string()).collect();
    eprintln!("Written: {}", names.join(", "));
    Ok(())
}

#[cfg(feature = "pdf")]
fn write_paper(plan: &works::Plan, season: Option<&works::Season>, folder: &Path) -> Result<Vec<std::path::PathBuf>, Failure> {
    let (proposal, (site, damping)) =
        rayon::join(|| documents::proposal_pdf(plan, season), || (documents::site_pdf(plan), documents::damping_pdf(plan)));
    let mut written = Vec::new();
    for (name, bytes) in [("proposal.pdf", proposal), ("site.pdf", site), ("damping.pdf", damping)] {
        let bytes = bytes.map_err(|error| Failure::machine(error.to_string()))?;
        written.push(write_whole(folder, name, &bytes)?);
    }
    Ok(written)
}

#[cfg(not(feature = "pdf"))]
#[expect(clippy::unnecessary_wraps, reason = "the same form as with the typesetter")]
fn write_paper(_: &works::Plan, _: Option<&works::Season>, _: &Path) -> Result<Vec<std::path::PathBuf>, Failure> {
    eprintln!("This harlwright was built without PDF: proposal.pdf, site.pdf and damping.pdf are left out.");
    Ok(Vec::new())
}
