//! The air on both sides of an assembly, at one time and through a year.

use crate::physics::{Error, saturation_pressure};

/// Days of each month in a common year, January first.
pub const MONTH_DAYS: [f64; 12] = [31.0, 28.0, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0];

/// Air by temperature in C and vapor pressure in Pa.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    pub temperature: f64,
    pub pressure: f64,
}

impl Air {
    /// Air of `temperature` in C and relative `humidity`, 0 to 1.
    pub fn humid(temperature: f64, humidity: f64) -> Result<Air, Error> {
        if !(0.0..=1.0).contains(&humidity) {
            return Err(Error::Humidity { value: humidity });
        }
        // p = phi psat(t)
        Air { temperature, pressure: humidity * saturation_pressure(temperature) }.checked()
    }

    pub(super) fn checked(self) -> Result<Air, Error> {
        if !(-100.0..=100.0).contains(&self.temperature) {
            return Err(Error::Temperature { value: self.temperature });
        }
        if !(0.0..=1.0e5).contains(&self.pressure) {
            return Err(Error::Pressure { value: self.pressure });
        }
        Ok(self)
    }
}

/// The room: the same air all year, or a temperature together with the moisture that the use of the room adds to the outdoor
/// air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Indoor {
    Fixed(Air),
    /// `temperature` is that of the heated room; ISO 13788 takes 20 C.
    Class {
        class: HumidityClass,
        temperature: f64,
    },
}

/// Internal humidity class of ISO 13788, annex A: 1 storage, 2 offices and shops, 3 dwellings with few people,
/// 4 sports halls, kitchens, 5 laundries, pools.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HumidityClass(u8);

impl HumidityClass {
    /// Errors: `HumidityClass` unless 1 to 5.
    pub fn new(class: u8) -> Result<HumidityClass, Error> {
        if (1..=5).contains(&class) { Ok(HumidityClass(class)) } else { Err(Error::HumidityClass { value: class }) }
    }

    /// Vapor pressure of the room above that outdoors, Pa, at `outdoor` in C: the upper limit of the class at 0 C and
    /// below, falling linearly to nothing at 20 C (ISO 13788, annex A; class 5 has no limit there, 1360 Pa is its
    /// customary value).
    pub fn excess(self, outdoor: f64) -> f64 {
        let most = [270.0, 540.0, 810.0, 1080.0, 1360.0][usize::from(self.0) - 1];
        // dp = dp0 (1 - t/20), 0 <= t <= 20
        most * (1.0 - outdoor / 20.0).clamp(0.0, 1.0)
    }
}

impl Indoor {
    /// The air of the room while that outdoors is `outdoor`. A room given by class has no cooling: it is never colder than
    /// outdoors, and its air is at most saturated.
    pub fn air(self, outdoor: Air) -> Result<Air, Error> {
        match self {
            Indoor::Fixed(air) => air.checked(),
            Indoor::Class { class, temperature } => {
                let temperature = temperature.max(outdoor.temperature);
                // pi = pe + dp
                let pressure = outdoor.pressure + class.excess(outdoor.temperature);
                Air { temperature, pressure: pressure.min(saturation_pressure(temperature)) }.checked()
            }
        }
    }
}

/// Mean air of one month on both sides.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Month {
    pub outdoor: Air,
    pub indoor: Air,
    pub days: f64,
}

impl Month {
    pub(super) fn seconds(&self) -> f64 {
        self.days * 86_400.0
    }
}

/// Twelve months, January first.
#[derive(Clone, Debug, PartialEq)]
pub struct Year {
    months: [Month; 12],
}

impl Year {
    /// A year of monthly means outdoors, January first, and a room.
    ///
    /// Errors: `Months` unless twelve are given; those of [`Air`].
    pub fn new(outdoor: &[Air], indoor: Indoor) -> Result<Year, Error> {
        let outdoor: [Air; 12] = outdoor.try_into().map_err(|_| Error::Months { given: outdoor.len() })?;
        let mut months = [Month { outdoor: outdoor[0], indoor: outdoor[0], days: 0.0 }; 12];
        for (i, month) in months.iter_mut().enumerate() {
            let outdoor = outdoor[i].checked()?;
            *month = Month { outdoor, indoor: indoor.air(outdoor)?, days: MONTH_DAYS[i] };
        }
        Ok(Year { months })
    }

    pub fn months(&self) -> &[Month; 12] {
        &self.months
    }
}
