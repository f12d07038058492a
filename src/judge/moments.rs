//! Mean and standard deviation without loss of digits, and the median.

/// The arithmetic mean, with a second pass that takes off the rounding error of
/// the first.
pub fn mean(values: &[f64]) -> f64 {
    let n = values.len() as f64;
    let first = values.iter().sum::<f64>() / n;
    first + values.iter().map(|x| x - first).sum::<f64>() / n
}

/// The sample standard deviation about `mean`, n − 1 in the denominator.
///
/// Two passes: the deviations are formed first, so that nearly equal values do
/// not cancel.
pub fn standard_deviation(values: &[f64], mean: f64) -> f64 {
    let n = values.len() as f64;
    let squares: f64 = values.iter().map(|x| (x - mean) * (x - mean)).sum();
    let drift: f64 = values.iter().map(|x| x - mean).sum();
    ((squares - drift * drift / n) / (n - 1.0)).max(0.0).sqrt()
}

/// The middle value; the mean of the two middle ones of an even number.
pub fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    match sorted.len() {
        0 => 0.0,
        n if n % 2 == 1 => sorted[n / 2],
        n => f64::midpoint(sorted[n / 2 - 1], sorted[n / 2]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Ten times 0.1 is 0.999… in binary; their mean is 0.1 all the same.
    #[test]
    fn a_mean_is_not_off_by_the_rounding_of_its_sum() {
        assert_ne!([0.1; 10].iter().sum::<f64>() / 10.0, 0.1);
        assert_eq!(mean(&[0.1; 10]), 0.1);
    }
}
