//! The report, written to a file or to standard output.

use crate::{case_with, data, oddment, oddment_with, scratch, small};

#[test]
fn html_goes_to_standard_output() {
    let page = oddment(&small(&["report", "stool.toml"])).done();
    assert!(page.starts_with("<!DOCTYPE html>"), "{page}");
    assert!(
        page.contains("<h1 dir=\"auto\">Invented stool, lot 12</h1>"),
        "{page}"
    );
    // The figures are those of the assessment.
    assert!(page.contains("The leading verdict is married"), "{page}");
    assert!(page.contains("showing just this, 883 are"), "{page}");
    assert_eq!(page, oddment(&small(&["report", "stool.toml"])).done());
}

#[test]
fn the_ending_of_the_file_decides_the_form() {
    let folder = scratch("report-endings");
    let html = oddment(&small(&["report", "stool.toml"])).done();
    for (name, begins) in [
        ("a.html", "<!DOCTYPE html>"),
        ("b.HTM", "<!DOCTYPE html>"),
        ("c.md", "# Invented stool, lot 12\n"),
    ] {
        let path = folder.join(name);
        let path = path.to_str().unwrap();
        let said = oddment(&small(&["report", "stool.toml", "-o", path])).done();
        assert_eq!(said, format!("report {path}\n"));
        let written = std::fs::read_to_string(path).unwrap();
        assert!(written.starts_with(begins), "{written}");
        assert!(name == "c.md" || written == html);
        // Made again, it replaces itself.
        oddment(&small(&["report", "stool.toml", "-o", path])).done();
        assert_eq!(std::fs::read_to_string(path).unwrap(), written);
    }
}

#[test]
fn a_case_from_standard_input() {
    let case = case_with("Invented stool, lot 12", "<script>alert(1)</script> & Sons");
    let page = oddment_with(&small(&["report", "-"]), &case).done();
    assert!(
        page.contains("&lt;script&gt;alert(1)&lt;/script&gt; &amp; Sons"),
        "{page}"
    );
    assert!(!page.contains("<script"), "{page}");
}

#[test]
fn an_ending_that_is_no_form_is_wrong_usage() {
    let folder = scratch("report-wrong-ending");
    for name in ["report.pdf", "report", ".html", "report.html.gz"] {
        let path = folder.join(name);
        let path = path.to_str().unwrap();
        let error = oddment(&small(&["report", "stool.toml", "-o", path])).failed(2);
        assert!(
            error.contains("the name must end in .html, .htm or .md"),
            "{error}"
        );
    }
    assert_eq!(std::fs::read_dir(&folder).unwrap().count(), 0);
}

#[test]
fn what_is_no_file_is_not_written_over() {
    let folder = scratch("report-no-file");
    let place = folder.join("folder.html");
    std::fs::create_dir(&place).unwrap();
    let path = place.to_str().unwrap();
    assert_eq!(
        oddment(&small(&["report", "stool.toml", "-o", path])).failed(5),
        format!("error: cannot write `{path}`: it is a folder [file/write]\n")
    );
    let missing = folder.join("none/report.md");
    let path = missing.to_str().unwrap();
    assert_eq!(
        oddment(&small(&["report", "stool.toml", "-o", path])).failed(5),
        format!("error: cannot write `{path}`: there is no such file or folder [file/write]\n")
    );
}

#[cfg(unix)]
#[test]
fn a_device_is_not_written_to() {
    let folder = scratch("report-device");
    let link = folder.join("null.html");
    std::os::unix::fs::symlink("/dev/null", &link).unwrap();
    let path = link.to_str().unwrap();
    assert_eq!(
        oddment(&small(&["report", "stool.toml", "-o", path])).failed(5),
        format!("error: cannot write `{path}`: it is there and is no file [file/write]\n")
    );
}

#[test]
fn a_report_does_not_replace_its_case() {
    let folder = scratch("report-own-case");
    let case = folder.join("case.md");
    let text = std::fs::read_to_string(data().join("stool.toml")).unwrap();
    std::fs::write(&case, &text).unwrap();
    let path = case.to_str().unwrap();
    assert_eq!(
        oddment(&small(&["report", path, "-o", path])).failed(5),
        format!("error: cannot write `{path}`: it is the case itself [file/write]\n")
    );
    assert_eq!(std::fs::read_to_string(&case).unwrap(), text);
}

#[test]
fn a_bad_case_leaves_no_report() {
    let folder = scratch("report-bad-case");
    let path = folder.join("report.html");
    let case = case_with("\"spare-holes\"", "\"spare-hole\"");
    let arguments = ["report", "-", "-o", path.to_str().unwrap()];
    let error = oddment_with(&small(&arguments), &case).failed(3);
    assert!(error.contains("[case/unknown-id]"), "{error}");
    assert!(!path.exists());
    oddment(&small(&["report", "no-such-case.toml"])).failed(5);
}
