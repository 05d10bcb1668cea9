#include "ui/screens/permit_form.hpp"

#include "ui/screens/chrome.hpp"
#include "ui/screens/permit_sheet.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

#include <utility>

namespace crossarm::ui {

std::string why_refused(const View& view, const model::permit::Act& act, const std::string& by) {
    const PermitView& permit = view.at_hand->permit;
    const auto refusal = visit::permit::refusal(visit::permit::Wished{
        permit.rules, permit.powers, permit.state, act, by, view.now, view.at_hand->structure->id});
    return refusal ? say_reason(view, refusal->why) : std::string();
}

void draw_permit_form(Touch& touch, const View& view, const FormOf& form, FormDraft& draft, Wishes& wishes) {
    heading(touch, title_of(view, form));
    draw_notice(touch, view, wishes);
    if (std::exchange(draft.moved_on, false)) {
        scroll_to_top(touch, "form_area");
    }
    const std::vector<FormField> fields = fields_of(view, form, draft);
    const FormField* open = open_field(fields, draft);
    const ScrollArea area(touch, "form_area");
    if (!view.pin_notice.empty()) {
        text(touch, view.pin_notice, {.weight = Weight::Bold, .role = Role::Warning});
    }
    if (shows_sheet(form) && open != nullptr && open->ask == Ask::Signature) {
        text(touch, sheet_for_people(view)); // whole, before anybody signs
    }
    const auto act = act_of(view, form, draft);
    FormConfirm confirm = confirm_of(view, form);
    if (act) {
        confirm.why_disabled =
            why_refused(view, *act, draft.pins.empty() ? view.who : draft.pins.front().person);
    }
    if (!draw_form(touch, "form", fields, draft, confirm) || !act) {
        return;
    }
    if (draft.pins.empty()) {
        wishes.push_back(Mean{visit::ActOnPermit{*act}});
    } else {
        wishes.push_back(MeanWithPins{visit::ActOnPermit{*act}, draft.hand_over_pins()});
    }
}

} // namespace crossarm::ui
