//! scratch
fn main() {
    let a = std::env::args().nth(1).unwrap();
    let t = std::fs::read_to_string(&a).unwrap();
    let t0 = std::time::Instant::now();
    for _ in 0..100 {
        let _ = job::read(&t, &a);
    }
    println!("read {:?} us", t0.elapsed().as_micros() / 100);
    let j = match job::read(&t, &a) {
        Ok(j) => j,
        Err(p) => {
            for p in p {
                println!("{p}")
            }
            return;
        }
    };
    let p = works::plan(&j.inputs, None, &works::Unwatched);
    match p {
        Ok(p) => {
            for f in &p.findings {
                if f.grade != reckoning::Grade::Agrees {
                    println!("{:?} {} {}: {}", f.grade, f.rule, f.place, f.says);
                }
            }
            for a in &p.answers {
                println!("{} {}", a.question, a.answer)
            }
            for s in &p.swings {
                println!("{s:?}")
            }
            for w in &p.survey.walls {
                println!("{} net {} relief {:?}", w.slug, w.net_m2, w.relief.percentiles_m)
            }
        }
        Err(e) => println!("{e}"),
    }
}
