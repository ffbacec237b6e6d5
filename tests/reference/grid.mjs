// Prints what the npm package psychrolib says of moist air on a grid: C, RH, then p_sat, vapour pressure (Pa), dew point (C) and
// humidity ratio (kg/kg) at 101325 Pa.
import psychrolib from "psychrolib";

psychrolib.SetUnitSystem(psychrolib.SI);
for (let t = -20; t <= 60; t += 0.5) {
  for (let percent = 5; percent <= 100; percent += 5) {
    const rh = percent / 100;
    const values = [
      psychrolib.GetSatVapPres(t),
      psychrolib.GetVapPresFromRelHum(t, rh),
      psychrolib.GetTDewPointFromRelHum(t, rh),
      psychrolib.GetHumRatioFromRelHum(t, rh, 101325),
    ];
    console.log([t, rh, ...values].join(","));
  }
}
