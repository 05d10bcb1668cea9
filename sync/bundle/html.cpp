#include "sync/bundle/html.hpp"

namespace crossarm::bundle {

std::string escaped(std::string_view text) {
    std::string out;
    for (const char c : text) {
        switch (c) {
        case '&':
            out += "&amp;";
            break;
        case '<':
            out += "&lt;";
            break;
        case '>':
            out += "&gt;";
            break;
        case '"':
            out += "&quot;";
            break;
        case '\'':
            out += "&#39;";
            break;
        default:
            out += static_cast<unsigned char>(c) < 0x20 || c == 0x7F ? ' ' : c;
        }
    }
    return out;
}

std::string element(std::string_view name, std::string_view text) {
    const std::string tag(name);
    return "<" + tag + ">" + escaped(text) + "</" + tag + ">";
}

std::string html_page(std::string_view title, std::string_view style, std::string_view body) {
    std::string out = "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">";
    out += element("title", title);
    out += "\n<style>";
    out += style;
    out += "</style></head><body>\n";
    out += body;
    return out + "</body></html>\n";
}

} // namespace crossarm::bundle
