use oddment::*;
use std::time::Instant;
fn main(){
 let pack=packs::load("drop-leaf-table").unwrap();
 for f in std::fs::read_dir("priors/cases").unwrap(){ let f=f.unwrap().path(); let t=std::fs::read_to_string(&f).unwrap();
  let case=Case::load(Text::new("c",&t),&pack).unwrap();
  let a=Instant::now(); let model=Model::compile(&pack,case.years,&case.numbers).unwrap(); let b=Instant::now();
  let small=Model::compile_reported(&pack,&case).unwrap(); let c=Instant::now();
  let inq=Inquiry::open(&pack,&case,&model).unwrap(); let d=Instant::now();
  let arg=inq.argument(None).unwrap(); let e=Instant::now();
  println!("{:?} n={} compile {:?} small {:?} open {:?} argument {:?} exact {} orders {} slots {} small {}", f.file_name().unwrap(), arg.findings.len(), b-a,c-b,d-c,e-d, arg.shares.exact, arg.shares.orders, model.circuit().slots(), small.circuit().slots());
  let v:Vec<usize>=model.leaves().iter().map(|l| model.circuit().cone(&[l.variable]).steps()).collect(); println!("cones {v:?} of {}", model.circuit().steps());

 }
}
