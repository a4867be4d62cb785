//! The coats of the default system and of a job's own.

use reckoning::Hazard;
use survey::Evenness;
use works::{CoatKind, Placing};

use crate::fixture::*;

#[test]
fn the_default_system() {
    let specification = specified(&inputs());
    let wall = &specification.walls[0];
    let kinds: Vec<CoatKind> = wall.coats.iter().map(|coat| coat.kind).collect();
    assert_eq!(kinds, [CoatKind::Scud, CoatKind::Straightening, CoatKind::Finish]);
    assert_eq!(wall.coats.iter().map(|coat| coat.mix.sand_parts).collect::<Vec<_>>(), [1.0, 2.0, 2.5]);
    assert_eq!(wall.coats[0].thickness_m, [0.003, 0.0035, 0.004], "the scud is 3 to 4 mm: a fact of the trade");
    assert_eq!(wall.coats.iter().map(|coat| coat.placing).collect::<Vec<_>>(), [Placing::Thrown, Placing::Laid, Placing::Thrown]);
    assert!(wall.coats.iter().all(|coat| coat.least_wait_days == 7.0 && coat.protection.cover == "damp-hessian"));
    assert_eq!((wall.limewash.coats, wall.limewash.lime.as_str()), (5, "putty-cl90"));
    assert_eq!(specification.panel.lead_days, 35);
}

#[test]
fn all_thrown_is_all_thrown() {
    let mut job = inputs();
    job.system.all_thrown = known(true);
    assert!(specified(&job).walls[0].coats.iter().all(|coat| coat.placing == Placing::Thrown));
}

#[test]
fn rubble_goes_on_in_passes_the_hollows_first() {
    let mut job = inputs();
    job.building.walls[0].evenness = Evenness::Gaps { gaps_m: vec![0.045; 10] };
    let specification = specified(&job);
    let passes: Vec<_> = specification.walls[0].coats.iter().filter(|coat| coat.kind == CoatKind::Straightening).collect();
    assert!(passes.len() > 1);
    assert!(passes[0].slug == "straightening-1" && passes[0].name.contains("hollows"));
    assert!(passes.iter().all(|pass| pass.thickness_m[2] <= 0.012 + 1e-9));
    assert_eq!(grade(&job, "pass-limit"), reckoning::Grade::Agrees);
}

/// A shorter edge leaves more undulation and takes less mortar.
#[test]
fn a_longer_straight_edge_takes_more_mortar() {
    let total = |edge_m: f64| {
        let mut job = inputs();
        job.building.walls[0].evenness = Evenness::Gaps { gaps_m: vec![0.030; 10] };
        job.system.straight_edge_m = known(edge_m);
        specified(&job).walls[0].coats.iter().map(|coat| coat.mean_thickness_m).sum::<f64>()
    };
    assert!(total(0.6) < total(0.9) && total(0.9) < total(1.8) && total(1.8) < total(3.0));
}

#[test]
fn every_test_names_the_nail_first_and_cautions_the_indicator() {
    for coat in &specified(&inputs()).walls[0].coats {
        let (nail, indicator) = (coat.test.find("nail").unwrap(), coat.test.find("phenolphthalein").unwrap());
        assert!(nail < indicator && coat.test.contains("very high concern"));
    }
}

/// No sentence of the specification tells anybody to put water on quicklime, even when the job asks for a hot-mixed mortar.
#[test]
fn no_procedure_puts_water_on_quicklime() {
    let mut job = inputs();
    job.system.lime = known("quicklime-cl90".to_owned());
    let specification = specified(&job);
    let coats = specification.walls.iter().flat_map(|wall| wall.coats.iter().flat_map(|coat| [coat.method.clone(), coat.test.clone()]));
    let all: Vec<String> = specification.preparation.iter().cloned().chain(coats).chain([specification.panel.words.clone()]).collect();
    assert!(all.iter().all(|words| !words.to_lowercase().contains("quicklime") && !words.to_lowercase().contains("slak")));
    let trained = of_rule(&specification, "hot-mixing");
    assert!(trained.iter().all(|finding| finding.remedy.contains("trained")));
    assert!(
        job.catalogue
            .cautions
            .iter()
            .any(|caution| caution.hazard == Hazard::Quicklime && caution.words.contains("never water onto the quicklime"))
    );
}

/// A wall more changes nothing on the others; walls permuted are the specification permuted.
#[test]
fn walls_are_specified_each_for_itself() {
    let mut job = inputs();
    job.building.walls = vec![wall("north"), wall("east")];
    job.building.walls[1].evenness = Evenness::Gaps { gaps_m: vec![0.045; 10] };
    let both = specified(&job);
    job.building.walls.reverse();
    let turned = specified(&job);
    assert_eq!(both.walls[0], turned.walls[1]);
    assert_eq!(both.walls[1], turned.walls[0]);
    job.building.walls.truncate(1);
    assert_eq!(specified(&job).walls[0], turned.walls[0]);
}
