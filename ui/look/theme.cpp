#include "ui/look/theme.hpp"

namespace crossarm::ui {
namespace {

using enum Role;

constexpr Pair kPairs[] = {
    {Words, Ground, true},           {Words, Surface, true},
    {Words, Pressed, true},          {QuietWords, Ground, true},
    {QuietWords, Surface, true},     {QuietWords, Pressed, true},
    {MainWords, Main, true},         {MainWords, MainPressed, true},
    {DisabledWords, Disabled, true}, {DisabledWords, Ground, true},
    {Warning, Ground, true},         {Warning, Surface, true},
    {BandWords, LiveBand, true},     {BandWords, PermitBand, true},
    {Edge, Ground, false},           {Edge, Surface, false},
    {Edge, Pressed, false},          {Edge, Disabled, false},
    {Edge, DrawingFill, false},      {Main, Ground, false},
    {Chosen, Ground, false},         {Chosen, Surface, false},
    {Chosen, Pressed, false},        {MarkLine, Ground, false},
    {MarkLine, Surface, false},      {MarkLine, Pressed, false},
    {MarkLine, SoundFill, false},    {MarkLine, WatchFill, false},
    {MarkLine, RepairFill, false},   {MarkLine, Disabled, false},
    {MarkLine, DrawingFill, false},  {MarkLineOnDanger, DangerFill, false},
    {DrawingLine, Ground, false},    {DrawingLine, DrawingFill, false},
    {LiveBand, Ground, false},       {PermitBand, Ground, false},
    {StopWords, Stop, true},         {StopWords, StopPressed, true},
    {Stop, LiveBand, false},         {Stop, PermitBand, false},
};

} // namespace

Theme Theme::sun() {
    Theme theme;
    const auto set = [&theme](Role role, std::uint32_t hex) {
        theme.colours_[static_cast<std::size_t>(role)] = rgb(hex);
    };
    set(Ground, 0xFFFFFF);
    set(Surface, 0xF3F3F0);
    set(Pressed, 0xD4DCE2);
    set(Words, 0x101010);
    set(QuietWords, 0x333333);
    set(Edge, 0x4A4A4A);
    set(Main, 0x24303A);
    set(MainPressed, 0x000000);
    set(MainWords, 0xFFFFFF);
    set(Chosen, 0x000000);
    set(Disabled, 0xE6E6E4);
    set(DisabledWords, 0x404040);
    set(Warning, 0x7A1200);
    // Red and blue of treat-as-live and of the permit: approximations of ISO 3864-4's safety colours
    // (RAL 3001, RAL 5005). Green would say "safe condition" (ISO 3864-1) and is used nowhere.
    set(LiveBand, 0x9B2423);
    set(PermitBand, 0x005387);
    set(BandWords, 0xFFFFFF);
    // Black on yellow warns (ISO 3864-1); lighter than the standard's yellow so that it stands in the sun.
    set(Stop, 0xFFDA29);
    set(StopPressed, 0xFFFFFF);
    set(StopWords, 0x000000);
    // The worse the darker, so that the order holds in greyscale and in print.
    set(SoundFill, 0xFFFFFF);
    set(WatchFill, 0xF2DF3A);
    set(RepairFill, 0xE8791A);
    set(DangerFill, 0x7A0019);
    set(MarkLine, 0x000000);
    set(MarkLineOnDanger, 0xFFFFFF);
    set(DrawingLine, 0x222222);
    set(DrawingFill, 0xE3E6E8);
    return theme;
}

std::span<const Pair> used_pairs() {
    return kPairs;
}

} // namespace crossarm::ui
