//! Colour, pipes and full disks.

use crate::{command, oddment, small};
use std::process::Stdio;

fn coloured(variables: &[(&str, &str)]) -> bool {
    let mut command = command(&small(&["assess", "stool.toml"]));
    let output = command.envs(variables.iter().copied()).output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    output.stdout.contains(&0x1b)
}

#[test]
fn no_style_off_a_terminal_or_where_it_is_not_wanted() {
    assert!(!coloured(&[]));
    assert!(coloured(&[("CLICOLOR_FORCE", "1")]));
    assert!(!coloured(&[("CLICOLOR_FORCE", "1"), ("NO_COLOR", "1")]));
}

#[test]
fn styles_add_nothing_to_the_words() {
    let mut command = command(&small(&["assess", "stool.toml"]));
    let output = command.env("CLICOLOR_FORCE", "1").output().unwrap();
    let styled = String::from_utf8(output.stdout).unwrap();
    let mut plain = String::new();
    let mut rest = styled.as_str();
    while let Some((before, escape)) = rest.split_once('\u{1b}') {
        plain.push_str(before);
        rest = escape.split_once('m').map_or("", |(_, after)| after);
    }
    plain.push_str(rest);
    assert_eq!(plain, oddment(&small(&["assess", "stool.toml"])).done());
}

#[test]
fn json_is_never_styled() {
    let mut command = command(&small(&["assess", "stool.toml", "--json"]));
    let output = command.env("CLICOLOR_FORCE", "1").output().unwrap();
    assert!(!output.stdout.contains(&0x1b));
}

#[test]
fn a_reader_that_goes_away_is_no_failure() {
    for arguments in [
        small(&["assess", "-"]),
        small(&["assess", "-", "--json"]),
        small(&["export", "-", "--format", "json"]),
    ] {
        let mut child = command(&arguments)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // Nobody reads before the command has even got its case.
        drop(child.stdout.take());
        let case = crate::case_with("schema", "schema");
        let mut stdin = child.stdin.take().unwrap();
        std::io::Write::write_all(&mut stdin, case.as_bytes()).unwrap();
        drop(stdin);
        let output = child.wait_with_output().unwrap();
        assert_eq!(output.status.code(), Some(0), "{arguments:?}");
        assert_eq!(String::from_utf8(output.stderr).unwrap(), "");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_a_failure() {
    for arguments in [small(&["assess", "stool.toml"]), vec!["schema", "case"]] {
        let full = std::fs::OpenOptions::new()
            .write(true)
            .open("/dev/full")
            .unwrap();
        let output = command(&arguments).stdout(full).output().unwrap();
        let stderr = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(5));
        assert_eq!(
            stderr,
            "error: cannot write `standard output`: there is no room left [file/write]\n"
        );
    }
}

#[test]
fn texts_of_others_cannot_steer_the_terminal() {
    let case = crate::case_with("Invented stool, lot 12", "\\u001b[2Jlot \\u202e12");
    let page = crate::oddment_with(&small(&["assess", "-"]), &case).done();
    assert!(page.starts_with("\u{fffd}[2Jlot \u{fffd}12\n"), "{page}");
    let case = crate::case_with("top-fits", "\\u001b[31mtop");
    let error = crate::oddment_with(&small(&["assess", "-"]), &case).failed(3);
    assert!(!error.contains('\u{1b}'), "{error}");
}
