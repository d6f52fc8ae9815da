//! Whether two jobs were sawn with the same mill.

use pithward_geometry::Mill;

/// By which fields of a mill file two mills are built otherwise. The name is for people; what takes how long is a matter of the
/// machine. Its blade, the saw that cuts boards to length and how many flitches are edged at once are no part of that: they are
/// changed from job to job.
pub fn built_otherwise(one: &Mill, other: &Mill) -> Vec<&'static str> {
    let Mill {
        name: _,
        kerf: _,
        step,
        largest_diameter,
        longest,
        shortest,
        widest_cut,
        deepest_above,
        lowest_blade,
        crosscut_kerf: _,
        toe_board,
        edging_batch: _,
    } = one;
    let differs = [
        ("step", *step != other.step),
        ("largest_diameter", *largest_diameter != other.largest_diameter),
        ("longest", *longest != other.longest),
        ("shortest", *shortest != other.shortest),
        ("widest_cut", *widest_cut != other.widest_cut),
        ("deepest_above", *deepest_above != other.deepest_above),
        ("lowest_blade", *lowest_blade != other.lowest_blade),
        ("toe_board", *toe_board != other.toe_board),
    ];
    differs.into_iter().filter_map(|(field, differs)| differs.then_some(field)).collect()
}
