use super::*;

fn prior() -> Prior {
    Prior { mean: vec![0.5, -0.2], deviation: vec![0.4, 0.8], row: 0.2, day: 0.1, unsure: 0.5 }
}

fn row(x: [f64; 2], y: f64) -> Row {
    Row { x: x.to_vec(), y }
}

fn small() -> Regression {
    let mut regression = Regression::new(prior());
    regression.group(&[row([1.0, 0.2], 0.9), row([0.7, 0.5], 0.3), row([0.9, -0.3], 1.1)]);
    regression.group(&[row([0.1, 1.1], -0.6), row([0.4, 0.6], 0.2)]);
    regression.alone(&row([0.3, 1.0], 0.05), 0.3);
    regression
}

#[track_caller]
fn near(got: f64, expected: f64, within: f64) {
    assert!((got - expected).abs() <= within, "{got}, and {expected} is expected");
}

/// Values of numpy 2.4.6 and scipy 1.17.1, with every matrix written out whole and inverted: the posterior at the deviations
/// 0.25 and 0.15, and the difference of `multivariate_normal.logpdf` of the rows between these and 0.4 and 0.05.
#[test]
fn known_deviations_give_what_whole_matrices_give() {
    let given = small().given(0.25, 0.15).unwrap();
    for (n, expected) in [0.914_900_655_9, -0.465_155_312_126].into_iter().enumerate() {
        near(given.mean[n] + prior().mean[n], expected, 1e-10);
    }
    for (at, expected) in [
        ((0, 0), 0.039_273_931_473),
        ((1, 0), -0.008_944_304_901),
        ((0, 1), -0.008_944_304_901),
        ((1, 1), 0.031_664_517_082),
    ] {
        near(given.covariance[at], expected, 1e-11);
    }
    near(given.alone[0], 27.212_790_698, 1e-6);
    near(given.alone[1], 33.752_394_653, 1e-6);
    let other = small().given(0.4, 0.05).unwrap();
    near(0.5 * (given.likely - other.likely), 0.983_700_132_390_6, 1e-10);
}

/// The same with both deviations unknown, by a sum over 161 times 161 of them in scipy.
#[test]
fn unknown_deviations_give_the_mean_over_all() {
    let found = small().posterior();
    near(found.mean[0], 0.986_882_6, 1e-3);
    near(found.mean[1], -0.552_279_0, 1e-3);
    near(found.covariance[0][0], 0.025_339_5, 2e-4);
    near(found.covariance[0][1], -0.007_943_4, 2e-4);
    near(found.covariance[1][1], 0.022_244_4, 2e-4);
    near(found.row[0], -1.885_605_6, 5e-3);
    near(found.row[1], 0.407_657_0, 5e-3);
    near(found.day[0], -2.369_493_4, 5e-3);
    near(found.day[1], 0.473_019_2, 5e-3);
}

#[test]
fn without_rows_all_is_as_before() {
    let found = Regression::new(prior()).posterior();
    assert_eq!(found.mean, prior().mean);
    for (n, deviation) in prior().deviation.into_iter().enumerate() {
        near(found.covariance[n][n], deviation * deviation, 1e-15);
    }
    near(libm::exp(found.row[0]), 0.2, 1e-15);
    assert!((found.day[1] - 0.5).abs() < 1e-15);
}

/// Five hundred rows that only ever say the sum of two unknowns: the sum is known, and the two share what it moved as their
/// variances say.
#[test]
fn what_no_row_tells_apart_is_shared_as_it_was_known() {
    let mut regression = Regression::new(Prior { mean: vec![0.0; 2], ..prior() });
    for _ in 0..50 {
        regression.group(&vec![row([1.0, 1.0], 1.0); 10]);
    }
    let found = regression.posterior();
    near(found.mean[0] + found.mean[1], 1.0, 0.01);
    // 0.16 to 0.64.
    near(found.mean[1] / found.mean[0], 4.0, 0.01);
    let sum = found.covariance[0][0] + 2.0 * found.covariance[0][1] + found.covariance[1][1];
    assert!(sum < 0.01 && found.covariance[0][0] > 0.1);
}
