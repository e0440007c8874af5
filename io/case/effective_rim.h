// Where the current of one electrode is grounded, so that one electrode computed around its axis
// has the resistance of two side by side. Thin sheets, insulated edges, method of images:
//
//   wide sheet                                   R = d
//   disc, electrodes symmetric about its centre  R = d (4 b^2 + d^2) / (4 b^2 - d^2)
//   strip, electrodes along its centre line      R = (w/pi) sinh(pi d / w)
//   strip, electrodes side by side across it     R = (2 w/pi) tan(pi d / (2 w))
//
// With a slit of length s half way between the electrodes, at right angles to the line that joins
// them; the current flows around its ends:
//
//   wide sheet   R = d + s^2/d
//   along        R = 4 (u + 1)(u + q) w / [(1 - q) pi sinh(pi d / w)],
//                u = sinh^2(pi d/(2 w)),  q = sin^2(pi s/(2 w));      s < w, or the strip is in two
//   across       R = (2 w/pi) [cosh(pi s/w) - cos(pi d/w)] / sin(pi d/w)
//
//   d  distance of the electrode axes [m]     b  radius of the disc [m], > d/2
//   w  width of the strip [m]; across: > d
//
// The mean of ln|distance to the other electrode| over a contact that feeds its current evenly is
// ln d exactly, hence d and not d/2 + sqrt(d^2/4 - a^2). The disc and strip forms follow from
// Smythe, Static and Dynamic Electricity (images) and the product formulas of sinh and tan. The
// slit forms follow by conformal mapping (the same book): the half of the strip beside the slit,
// whose line is insulated on the slit and at 0 V beside it, is mapped by sinh^2(pi z/w), along, or
// cosh(2 pi z/w), across, onto a half-plane in which the line at 0 V is a piece of the edge.
// All throw std::domain_error outside their range.
#pragma once

namespace tabmelt {

double disc_rim_radius(double spacing, double disc_radius);                     // [m]
double strip_rim_radius_along(double spacing, double width, double slit = 0);   // [m]
double strip_rim_radius_across(double spacing, double width, double slit = 0);  // [m]

}  // namespace tabmelt
