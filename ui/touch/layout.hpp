// Where things go: names nested, columns side by side, a bar at the bottom, a margin.
#pragma once

#include "ui/touch/touch.hpp"

#include <cstddef>
#include <initializer_list>
#include <string_view>
#include <vector>

namespace crossarm::ui {

/// Names inside it are "name/..." while it lives.
class Scope {
public:
    Scope(Touch& touch, std::string_view name);
    ~Scope();
    Scope(const Scope&) = delete;
    Scope& operator=(const Scope&) = delete;

private:
    Touch& touch_;
    std::size_t before_;
};

/// Side by side: starts in the first column; next() goes on to the following one; when it ends, the pen is
/// below the longest. `shares` are parts of the width: {2, 1} gives two thirds and one third.
class Columns {
public:
    Columns(Touch& touch, std::initializer_list<float> shares);
    Columns(Touch& touch, std::size_t equal_columns);
    ~Columns();
    Columns(const Columns&) = delete;
    Columns& operator=(const Columns&) = delete;

    void next();

private:
    Columns(Touch& touch, const std::vector<float>& shares);
    void open();
    void close();
    Touch& touch_;
    std::vector<float> edges_; // left, right of each column in turn
    std::size_t at_ = 0;
    float top_;
    float lowest_;
};

/// A bar at the bottom of the room for the acts of a screen. Draw it before what stands above it: the room
/// is shorter by its height from then on. The height is that of the last frame and settles by itself.
class BottomBar {
public:
    BottomBar(Touch& touch, std::string_view name);
    ~BottomBar();
    BottomBar(const BottomBar&) = delete;
    BottomBar& operator=(const BottomBar&) = delete;

private:
    Touch& touch_;
    std::string path_;
    float top_;
};

/// The room less a margin (default: the screen's margin) on all four sides.
class Inset {
public:
    explicit Inset(Touch& touch);
    Inset(Touch& touch, float left_mm, float top_mm, float right_mm, float bottom_mm);
    ~Inset();
    Inset(const Inset&) = delete;
    Inset& operator=(const Inset&) = delete;

private:
    void open(float left, float top, float right, float bottom);
    Touch& touch_;
    float bottom_ = 0;
};

} // namespace crossarm::ui
