// The colours of every picture, in sRGB (IEC 61966-2-1).
//
// A ramp runs through given points of CIELAB space (CIE 15, D65) with lightness L* rising all the
// way, stepped in distances dE = sqrt(dL^2 + da^2 + db^2): bands keep their order in a grey
// print and for any kind of colour blindness. Line colours are the set of Okabe and Ito, "Color
// Universal Design" (2008), made to be told apart by colour-blind readers.
#pragma once

#include <cstddef>
#include <vector>

namespace tabmelt::drawing {

// sRGB, each 0..1.
struct Colour {
  double red = 0, green = 0, blue = 0;
  double opacity = 1;
};

Colour faded(Colour, double opacity);
// Mixed towards white (share 1 gives white).
Colour paler(const Colour&, double share);
// Mixed towards black, for words in the colour of a thin line.
Colour deeper(const Colour&, double share);

namespace palette {

inline constexpr Colour paper{0.984, 0.980, 0.968};
inline constexpr Colour ink{0.110, 0.125, 0.145};
inline constexpr Colour quiet_ink{0.360, 0.380, 0.410};
inline constexpr Colour rule{0.860, 0.850, 0.825};
inline constexpr Colour plot{1.0, 1.0, 1.0};
inline constexpr Colour white{1.0, 1.0, 1.0};
inline constexpr Colour good{0.000, 0.450, 0.340};
inline constexpr Colour bad{0.750, 0.200, 0.000};

inline constexpr Colour blue{0.000, 0.447, 0.698};
inline constexpr Colour vermillion{0.835, 0.369, 0.000};
inline constexpr Colour green{0.000, 0.620, 0.451};
inline constexpr Colour purple{0.800, 0.475, 0.655};
inline constexpr Colour orange{0.902, 0.624, 0.000};
inline constexpr Colour sky{0.337, 0.706, 0.914};
inline constexpr Colour black{0.110, 0.125, 0.145};

}  // namespace palette

// Colours for `bands` bands, from little (dark) to much (light). Each quantity has hues of its own,
// so that no picture is taken for another. Heat: slate and blue while metal is cool to the eye,
// brown and orange on the way to melting, salmon and cream above.
std::vector<Colour> heat_ramp(std::size_t bands);
// The same in unequal steps: the share [any unit] of the whole colour distance that each band
// takes.
std::vector<Colour> heat_ramp(const std::vector<double>& steps);
std::vector<Colour> potential_ramp(std::size_t bands);        // violet
std::vector<Colour> current_density_ramp(std::size_t bands);  // green
std::vector<Colour> liquid_ramp(std::size_t bands);           // blue

}  // namespace tabmelt::drawing
