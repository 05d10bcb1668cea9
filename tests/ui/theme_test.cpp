// Colours stand out against each other in a room and in the sun; sizes are what they say in millimetres.
#include "tests/support/catch.hpp"
#include "ui/look/sizes.hpp"
#include "ui/look/theme.hpp"

#include <array>
#include <cmath>

using namespace crossarm::ui;

namespace {

struct Lab {
    double lightness;
    double a;
    double b;
};

using Linear = std::array<double, 3>;

Linear linear(Colour colour) {
    const auto one = [](std::uint8_t value) {
        const double share = value / 255.0;
        return share <= 0.04045 ? share / 12.92 : std::pow((share + 0.055) / 1.055, 2.4);
    };
    return {one(colour.red), one(colour.green), one(colour.blue)};
}

Linear seen_by(const std::array<Linear, 3>& eye, const Linear& light) {
    Linear out{};
    for (std::size_t i = 0; i < 3; ++i) {
        out[i] = std::max(0.0, eye[i][0] * light[0] + eye[i][1] * light[1] + eye[i][2] * light[2]);
    }
    return out;
}

/// CIELAB under D65, from linear sRGB (IEC 61966-2-1).
Lab lab(const Linear& light) {
    const double x = (0.4124 * light[0] + 0.3576 * light[1] + 0.1805 * light[2]) / 0.95047;
    const double y = 0.2126 * light[0] + 0.7152 * light[1] + 0.0722 * light[2];
    const double z = (0.0193 * light[0] + 0.1192 * light[1] + 0.9505 * light[2]) / 1.08883;
    const auto f = [](double t) { return t > 216.0 / 24389 ? std::cbrt(t) : (24389.0 / 27 * t + 16) / 116; };
    return {116 * f(y) - 16, 500 * (f(x) - f(y)), 200 * (f(y) - f(z))};
}

/// CIEDE2000 colour difference. Source: Sharma, Wu, Dalal, Color Res. Appl. 30 (2005) 21-30.
double difference(const Lab& one, const Lab& other) {
    constexpr double kPi = 3.14159265358979323846;
    const auto chroma = [](double a, double b) { return std::hypot(a, b); };
    const double mean_c = (chroma(one.a, one.b) + chroma(other.a, other.b)) / 2;
    const double c7 = std::pow(mean_c, 7);
    const double g = 0.5 * (1 - std::sqrt(c7 / (c7 + std::pow(25.0, 7))));
    const double a1 = one.a * (1 + g);
    const double a2 = other.a * (1 + g);
    const double c1 = chroma(a1, one.b);
    const double c2 = chroma(a2, other.b);
    const auto hue = [](double a, double b) {
        const double h = (a == 0 && b == 0) ? 0 : std::atan2(b, a) * 180 / kPi;
        return h < 0 ? h + 360 : h;
    };
    const double h1 = hue(a1, one.b);
    const double h2 = hue(a2, other.b);
    const double dl = other.lightness - one.lightness;
    const double dc = c2 - c1;
    double dh = 0;
    if (c1 * c2 != 0) {
        dh = h2 - h1;
        dh += dh > 180 ? -360 : dh < -180 ? 360 : 0;
    }
    const double dh_term = 2 * std::sqrt(c1 * c2) * std::sin(dh * kPi / 360);
    const double l = (one.lightness + other.lightness) / 2;
    const double c = (c1 + c2) / 2;
    double h = h1 + h2;
    if (c1 * c2 != 0) {
        h = std::abs(h1 - h2) <= 180 ? h / 2 : h < 360 ? (h + 360) / 2 : (h - 360) / 2;
    }
    const auto cosine = [](double degrees) { return std::cos(degrees * kPi / 180); };
    const double t = 1 - 0.17 * cosine(h - 30) + 0.24 * cosine(2 * h) + 0.32 * cosine(3 * h + 6) -
                     0.20 * cosine(4 * h - 63);
    const double turn = 30 * std::exp(-std::pow((h - 275) / 25, 2));
    const double rc = 2 * std::sqrt(std::pow(c, 7) / (std::pow(c, 7) + std::pow(25.0, 7)));
    const double sl = 1 + 0.015 * std::pow(l - 50, 2) / std::sqrt(20 + std::pow(l - 50, 2));
    const double sc = 1 + 0.045 * c;
    const double sh = 1 + 0.015 * c * t;
    const double rt = -std::sin(2 * turn * kPi / 180) * rc;
    return std::sqrt(std::pow(dl / sl, 2) + std::pow(dc / sc, 2) + std::pow(dh_term / sh, 2) +
                     rt * (dc / sc) * (dh_term / sh));
}

} // namespace

TEST_CASE("contrast gives the ratios of WCAG 2.2") {
    struct Case {
        std::uint32_t front;
        std::uint32_t back;
        double ratio;
    };
    // Computed from the formula in WCAG 2.2, definitions of contrast ratio and relative luminance.
    const Case cases[] = {
        {0x000000, 0xFFFFFF, 21.0000}, {0x777777, 0xFFFFFF, 4.4781}, {0x767676, 0xFFFFFF, 4.5422},
        {0x595959, 0xFFFFFF, 7.0047},  {0x5A5A5A, 0xFFFFFF, 6.8969}, {0x949494, 0xFFFFFF, 3.0335},
        {0x959595, 0xFFFFFF, 2.9953},  {0xFF0000, 0xFFFFFF, 3.9985}, {0x0000FF, 0xFFFFFF, 8.5925},
        {0x00FF00, 0xFFFFFF, 1.3722},  {0xFFFF00, 0xFFFFFF, 1.0738}, {0xFFFF00, 0x000000, 19.5560},
        {0x959595, 0x000000, 7.0109},
    };
    for (const Case& c : cases) {
        CHECK(contrast(rgb(c.front), rgb(c.back)) == Approx(c.ratio).margin(1e-3));
        CHECK(contrast(rgb(c.back), rgb(c.front)) == Approx(c.ratio).margin(1e-3));
    }
    CHECK(luminance(rgb(0x777777)) == Approx(0.18447).margin(1e-5));
}

TEST_CASE("every pair of colours that is used stands out in a room and in the sun") {
    const Theme theme = Theme::sun();
    for (const Pair& pair : used_pairs()) {
        INFO("front role " << static_cast<int>(pair.front) << " on back role "
                           << static_cast<int>(pair.back));
        const Colour front = theme[pair.front];
        const Colour back = theme[pair.back];
        if (pair.text) {
            CHECK(contrast(front, back) >= 7.0);
            CHECK(contrast(front, back, kSunFlare) >= 3.0);
        } else {
            CHECK(contrast(front, back) >= 3.0);
        }
    }
    CHECK(contrast(theme[Role::Words], theme[Role::Ground], kSunFlare) >= 4.0);
}

TEST_CASE("no green anywhere: it would say safe condition (ISO 3864)") {
    const Theme theme = Theme::sun();
    for (int i = 0; i < static_cast<int>(Role::Count); ++i) {
        const Colour c = theme[static_cast<Role>(i)];
        INFO("role " << i);
        CHECK_FALSE((c.green > c.red + 24 && c.green > c.blue + 24));
    }
}

TEST_CASE("the colour difference reproduces published pairs") {
    // Sharma, Wu, Dalal 2005, table 1, pairs 1 and 17.
    CHECK(difference({50, 2.6772, -79.7751}, {50, 0, -82.7485}) == Approx(2.0425).margin(1e-4));
    CHECK(difference({50, 2.5, 0}, {73, 25, -18}) == Approx(27.1492).margin(1e-4));
}

TEST_CASE("the fills of the four grades differ for every eye, and the worse is the darker") {
    // Full protanopia, deuteranopia, tritanopia: Machado, Oliveira, Fernandes, IEEE TVCG 15 (2009) 1291-1298,
    // severity 1.0; from memory.
    const std::array<Linear, 3> eyes[] = {
        {{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}},
        {{{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}},
        {{{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}},
        {{{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}}},
    };
    const Theme theme = Theme::sun();
    const Role fills[] = {Role::SoundFill, Role::WatchFill, Role::RepairFill, Role::DangerFill};
    for (const auto& eye : eyes) {
        for (std::size_t i = 0; i < 4; ++i) {
            for (std::size_t j = i + 1; j < 4; ++j) {
                CHECK(difference(lab(seen_by(eye, linear(theme[fills[i]]))),
                                 lab(seen_by(eye, linear(theme[fills[j]])))) >= 15);
            }
        }
    }
    for (std::size_t i = 0; i + 1 < 4; ++i) {
        CHECK(lab(linear(theme[fills[i]])).lightness >= lab(linear(theme[fills[i + 1]])).lightness + 10);
    }
}

TEST_CASE("millimetres become pixels and never fall short") {
    for (const float px_per_mm : {3.0F, 5.88F, 7.43F, 8.83F, 11.14F, 16.0F}) {
        for (const bool glove : {false, true}) {
            const Sizes sizes{px_per_mm, glove, 1.0F};
            CHECK(sizes.target() >= (glove ? 20 : 15) * px_per_mm - 0.01F);
            CHECK(sizes.target() + sizes.gap() >= (glove ? 24 : 20) * px_per_mm - 0.02F);
            CHECK(sizes.grave_height() >= 24 * px_per_mm - 0.01F);
            CHECK(sizes.body_capital() >= 3.2F * px_per_mm - 0.01F);
            CHECK(sizes.target() == std::round(sizes.target()));
        }
    }
}

TEST_CASE("pixels in a millimetre: the setting, else a monitor that can be believed, else the desktop") {
    CHECK(pixels_per_mm(7.43F, 1280, 217, 1) == Approx(7.43));
    CHECK(pixels_per_mm(std::nullopt, 1280, 217, 1) == Approx(1280.0 / 217));
    CHECK(pixels_per_mm(2.0F, 1280, 217, 1) == Approx(1280.0 / 217)); // no tablet has 2 px/mm
    CHECK(pixels_per_mm(std::nullopt, 1280, 0, 1) == Approx(96 / 25.4));
    CHECK(pixels_per_mm(std::nullopt, 1280, 1600, 2) == Approx(2 * 96 / 25.4)); // a projector's fiction
    CHECK(pixels_per_mm(std::nullopt, 0, 0, std::nanf("")) == Approx(96 / 25.4));
}
