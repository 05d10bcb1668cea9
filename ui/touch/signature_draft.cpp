#include "ui/touch/signature_draft.hpp"

#include <cmath>

namespace crossarm::ui {
namespace {

constexpr double kLeastStepTenths = 3; // nearer points tell nothing about the shape
constexpr double kLineTolerance = 2;
constexpr std::size_t kMostPointsALine = 2000; // a finger that never lifts

double between(model::StrokePoint a, model::StrokePoint b) {
    return std::hypot(static_cast<double>(a.x - b.x), static_cast<double>(a.y - b.y));
}

void open_line(SignatureDraft& draft, model::StrokePoint at) {
    if (draft.strokes.lines.size() >= model::kMostStrokeLines) {
        draft.notice = "signature.full";
        return;
    }
    draft.strokes.lines.push_back({at});
    draft.open = true;
}

} // namespace

void begin_line(SignatureDraft& draft, model::StrokePoint at) {
    lift_off(draft);
    draft.cut = false;
    draft.notice.clear();
    open_line(draft, at);
}

void draw_to(SignatureDraft& draft, model::StrokePoint at) {
    if (draft.cut) {
        return;
    }
    if (!draft.open) {
        open_line(draft, at);
        return;
    }
    model::StrokeLine& line = draft.strokes.lines.back();
    const double step = between(line.back(), at);
    if (step > kMostJumpTenths) {
        lift_off(draft);
        draft.cut = true;
        draft.notice = "signature.jumped";
        return;
    }
    if (line.size() >= kMostPointsALine) {
        line = model::thinned(line, 2 * kLineTolerance);
    }
    if (step >= kLeastStepTenths && line.size() < kMostPointsALine) {
        line.push_back(at);
    }
}

void lift_off(SignatureDraft& draft) {
    if (draft.open) {
        draft.strokes.lines.back() = model::thinned(draft.strokes.lines.back(), kLineTolerance);
        draft.open = false;
    }
}

void clear(SignatureDraft& draft) {
    draft = {};
}

std::string why_not_signed(const SignatureDraft& draft) {
    return draft.strokes.lines.empty()              ? "signature.empty"
           : model::too_little_drawn(draft.strokes) ? "signature.too_little"
                                                    : "";
}

std::string signed_text(const SignatureDraft& draft) {
    return model::to_text(model::thinned(draft.strokes));
}

} // namespace crossarm::ui
