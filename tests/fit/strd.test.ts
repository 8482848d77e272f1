// Fits against the certified values of NIST's Statistical Reference Datasets (StRD, public domain).
import { describe, expect, it } from "vitest";
import { fitLinear, fitNonlinear } from "../../core/fit/leastSquares.ts";
import type { Fit, NoFit } from "../../core/fit/problem.ts";

function table(text: string): number[][] {
  return text.split(";").map((row) => row.trim().split(/\s+/).map(Number));
}

/** How many digits agree: −log10 of the relative difference, as NIST counts them. */
function digits(found: number, certified: number): number {
  return -Math.log10(Math.abs(found - certified) / Math.abs(certified));
}

function fitted(outcome: Fit | NoFit): Fit {
  if (!outcome.converged) throw new Error(outcome.reason);
  return outcome;
}

function deviations(fit: Fit): number[] {
  return fit.covariance.map((row, at) => Math.sqrt(row[at] ?? Number.NaN));
}

/** The fewest digits that agree in two lists of equal length. */
function fewestDigits(found: readonly number[], certified: readonly number[]): number {
  expect(found.length).toBe(certified.length);
  return Math.min(...certified.map((value, at) => digits(found[at] ?? Number.NaN, value)));
}

describe("Misra1a: y = b1 (1 − exp(−b2 x))", () => {
  const data = table(`77.6 10.07; 114.9 14.73; 141.1 17.94; 190.8 23.93; 239.9 29.61; 289.0 35.18;
    332.8 40.02; 378.4 44.82; 434.8 50.76; 477.3 55.05; 536.8 61.01; 593.1 66.40; 689.1 75.47;
    760.0 81.78`);
  const xs = data.map(([x = 0]) => x);
  const values = data.map(([, y = 0]) => y);
  const predict = ([b1 = 0, b2 = 0]: readonly number[]) =>
    xs.map((x) => b1 * (1 - Math.exp(-b2 * x)));
  const slopes = ([b1 = 0, b2 = 0]: readonly number[]) =>
    xs.map((x) => [1 - Math.exp(-b2 * x), b1 * x * Math.exp(-b2 * x)]);

  it.each([
    ["first start, slopes by difference", [500, 0.0001], { predict }, 9],
    ["second start, slopes by difference", [250, 0.0005], { predict }, 9],
    ["first start, slopes given", [500, 0.0001], { predict, slopes }, 10],
    ["second start, slopes given", [250, 0.0005], { predict, slopes }, 10],
  ])("%s", (_name, start, model, digitsOfDeviations) => {
    const fit = fitted(fitNonlinear(model, start, { values }));
    expect(fit.degreesOfFreedom).toBe(12);
    // Eleven digits are certified, so that agreement to all of them counts as 10.3 or more.
    expect(fewestDigits(fit.parameters, [2.3894212918e2, 5.5015643181e-4])).toBeGreaterThan(10.3);
    expect(digits(fit.residualSum, 1.2455138894e-1)).toBeGreaterThan(10.3);
    expect(fewestDigits(deviations(fit), [2.7070075241, 7.2668688436e-6])).toBeGreaterThan(
      digitsOfDeviations,
    );
  });
});

// Data and certified values of the linear sets from memory; that 11 digits and more come out is the check.
describe("linear sets", () => {
  it("Norris: a straight line, low difficulty", () => {
    const data = table(`0.1 0.2; 338.8 337.4; 118.1 118.2; 888.0 884.6; 9.2 10.1; 228.1 226.5;
      668.5 666.3; 998.5 996.3; 449.1 448.6; 778.9 777.0; 559.2 558.2; 0.3 0.4; 0.1 0.6; 778.1 775.5;
      668.8 666.9; 339.3 338.0; 448.9 447.5; 10.8 11.6; 557.7 556.0; 228.3 228.1; 998.0 995.8;
      888.8 887.6; 119.6 120.2; 0.3 0.3; 0.6 0.3; 557.6 556.8; 339.3 339.1; 888.0 887.2; 998.5 999.0;
      778.9 779.0; 10.2 11.1; 117.6 118.3; 228.9 229.2; 668.4 669.1; 449.2 448.9; 0.2 0.5`);
    const values = data.map(([y = 0]) => y);
    const fit = fitted(
      fitLinear(
        data.map(([, x = 0]) => [1, x]),
        { values },
      ),
    );
    expect(fit.degreesOfFreedom).toBe(34);
    expect(fewestDigits(fit.parameters, [-0.262323073774029, 1.00211681802045])).toBeGreaterThan(
      12,
    );
    expect(
      fewestDigits(deviations(fit), [0.232818234301152, 0.429796848199937e-3]),
    ).toBeGreaterThan(12);
    expect(digits(Math.sqrt(fit.residualSum / 34), 0.884796396144373)).toBeGreaterThan(12);
  });

  it("Longley: seven parameters that look alike, high difficulty", () => {
    const data =
      table(`60323 83.0 234289 2356 1590 107608 1947; 61122 88.5 259426 2325 1456 108632 1948;
      60171 88.2 258054 3682 1616 109773 1949; 61187 89.5 284599 3351 1650 110929 1950;
      63221 96.2 328975 2099 3099 112075 1951; 63639 98.1 346999 1932 3594 113270 1952;
      64989 99.0 365385 1870 3547 115094 1953; 63761 100.0 363112 3578 3350 116219 1954;
      66019 101.2 397469 2904 3048 117388 1955; 67857 104.6 419180 2822 2857 118734 1956;
      68169 108.4 442769 2936 2798 120445 1957; 66513 110.8 444546 4681 2637 121950 1958;
      68655 112.6 482704 3813 2552 123366 1959; 69564 114.2 502601 3931 2514 125368 1960;
      69331 115.7 518173 4806 2572 127852 1961; 70551 116.9 554894 4007 2827 130081 1962`);
    const values = data.map(([y = 0]) => y);
    const fit = fitted(
      fitLinear(
        data.map((row) => [1, ...row.slice(1)]),
        { values },
      ),
    );
    const certified = [
      -3482258.63459582, 15.0618722713733, -0.035819179292591, -2.02022980381683, -1.03322686717359,
      -0.0511041056535807, 1829.15146461355,
    ];
    expect(fewestDigits(fit.parameters, certified)).toBeGreaterThan(10.5);
    expect(digits(deviations(fit)[0] ?? 0, 890420.383607373)).toBeGreaterThan(10.5);
  });

  it("Wampler1: a polynomial of degree five through 21 exact values, high difficulty", () => {
    const powers = (x: number) => [0, 1, 2, 3, 4, 5].map((power) => x ** power);
    const design = Array.from({ length: 21 }, (_, x) => powers(x));
    const values = design.map((row) => row.reduce((sum, one) => sum + one, 0));
    const fit = fitted(fitLinear(design, { values }));
    expect(fewestDigits(fit.parameters, [1, 1, 1, 1, 1, 1])).toBeGreaterThan(8.5);
    expect(fit.residualSum).toBeLessThan(1e-14);
  });
});
