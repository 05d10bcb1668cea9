// Pages to print: text made fit for HTML, and the frame that every page of ours has.
#pragma once

#include <string>
#include <string_view>

namespace crossarm::bundle {

/// `text` with the five special characters written out and control characters as spaces.
[[nodiscard]] std::string escaped(std::string_view text);

/// <name>text</name>, the text escaped.
[[nodiscard]] std::string element(std::string_view name, std::string_view text);

/// A whole page that needs nothing else to print. `title` is escaped; `style` and `body` are taken as they
/// are.
[[nodiscard]] std::string html_page(std::string_view title, std::string_view style, std::string_view body);

} // namespace crossarm::bundle
