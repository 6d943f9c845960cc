//! Quilts that nearly fill their fabric in plain strips are planned, as a person does at sight.

use cutcloth::app::summary::Verdict;

mod planted;

use planted::{Planted, planted, verdict};

/// Rings of two pieces each of two sizes, all of one print, and a middle, as many as `copies`.
fn buoys(copies: u32, rings: [&str; 2], middle: &str, sheets: &[&str]) -> Planted {
    let [one, other] = rings;
    let chart = format!(
        "block,make,label,role,width,height,count,shape,matching\n\
         Buoy,{copies},R1,ring,{one},2,rectangle,block\n\
         Buoy,{copies},R2,ring,{other},2,rectangle,block\n\
         Buoy,{copies},M,middle,{middle},{middle},1,rectangle,piece\n"
    );
    let mut stash = "print,cut,count,width,length\n".to_owned();
    for (number, sheet) in sheets.iter().enumerate() {
        stash += &format!("kelp {number},scrap,1,{sheet}\n");
    }
    stash += &format!("gull,scrap,{copies},{middle},{middle}\n");
    Planted { chart, stash }
}

#[test]
fn strips_that_leave_a_little_of_a_sheet_are_found() {
    let cases = [
        buoys(12, ["2 1/2,4", "2 1/2,6"], "4", &["15 1/2,20", "15 1/2,20"]),
        buoys(7, ["2 1/4,3", "2 1/4,7"], "3", &["16 1/4,20"]),
        buoys(7, ["2 1/2,2", "2 1/2,5"], "2", &["18,14"]),
    ];
    for (number, case) in cases.iter().enumerate() {
        assert_eq!(verdict(case), Verdict::Fits, "case {number}");
    }
}

#[test]
fn planted_quilts_are_planned() {
    for seed in 0..24 {
        assert_eq!(verdict(&planted(seed)), Verdict::Fits, "seed {seed}");
    }
}
