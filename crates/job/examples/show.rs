//! scratch
fn main() {
    let a = std::env::args().nth(1).unwrap();
    if a == "new" {
        print!("{}", job::template(&Default::default(), jiff::civil::date(2027, 2, 3)));
    } else if a == "schema" {
        println!("{}", serde_json::to_string_pretty(&job::schema()).unwrap());
    } else {
        match job::read(&std::fs::read_to_string(&a).unwrap(), &a) {
            Ok(j) => {
                println!("ok");
                for a in &j.assumed {
                    println!("{a:?}");
                }
                for f in &j.findings {
                    println!("{f:?}")
                }
            }
            Err(p) => {
                for p in p {
                    println!("{p}")
                }
            }
        }
    }
}
