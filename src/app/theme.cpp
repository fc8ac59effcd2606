#include "app/theme.h"

#include <algorithm>
#include <cmath>

#include "figure/type.h"

namespace linefall {

namespace {

constexpr ImU32 rgb(unsigned value) { return IM_COL32((value >> 16) & 255, (value >> 8) & 255, value & 255, 255); }

const ImWchar* glyphs() {
    static const ImWchar ranges[] = {0x20,   0x17F,  0x391,  0x3C9,  0x2002, 0x2026, 0x2030, 0x2033, 0x2070, 0x209C, 0x2190, 0x2193,
                                     0x2212, 0x2212, 0x221A, 0x221E, 0x2248, 0x2265, 0x22C5, 0x22C5, 0x2295, 0x2299, 0};
    return ranges;
}

ImVec4 vec(ImU32 colour) { return ImGui::ColorConvertU32ToFloat4(colour); }

}  // namespace

const Palette& palette(bool night) {
    static const Palette day{rgb(0xF6F1E7), rgb(0xFFFDF8), rgb(0x1F2328), rgb(0x4C5158), rgb(0xD9D2C5), rgb(0x7D766A),
                             {rgb(0xA8400A), rgb(0x0A5C8F)}, rgb(0xFFFFFF), rgb(0xE0A100), rgb(0xA1002C), rgb(0xE9E2D4), false};
    static const Palette dark{rgb(0x14171A), rgb(0x1C2126), rgb(0xECE7DC), rgb(0xADA697), rgb(0x343B42), rgb(0x7E8790),
                              {rgb(0xF08A4B), rgb(0x6BB7E8)}, rgb(0x14171A), rgb(0xF0B429), rgb(0xFF9AA8), rgb(0x22282E), true};
    return night ? dark : day;
}

ImU32 faded(ImU32 colour, float opacity) {
    const ImU32 alpha = static_cast<ImU32>(std::lround(255.0f * std::clamp(opacity, 0.0f, 1.0f)));
    return (colour & ~IM_COL32_A_MASK) | (alpha << IM_COL32_A_SHIFT);
}

Fonts loadFonts(float scale) {
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    atlas.Clear();
    atlas.Flags |= ImFontAtlasFlags_NoPowerOfTwoHeight;
    const std::string regular = fontFile("Inter-Regular"), strong = fontFile("Inter-SemiBold"), mono = fontFile("JetBrainsMono-Regular");
    const std::string display = fontFile("InterDisplay-SemiBold");
    Fonts fonts;
    const auto load = [&](const std::string& path, float size) {
        ImFontConfig config;
        config.OversampleH = 2;
        config.OversampleV = 1;
        config.PixelSnapH = false;
        const float pixels = std::round(size * scale);
        if (path.empty()) {
            config.SizePixels = pixels;
            return atlas.AddFontDefault(&config);
        }
        return atlas.AddFontFromFileTTF(path.c_str(), pixels, &config, glyphs());
    };
    fonts.body = load(regular, 15.0f);
    fonts.small = load(regular, 14.0f);
    fonts.strong = load(strong, 15.0f);
    fonts.title = load(display.empty() ? strong : display, 20.0f);
    fonts.large = load(display.empty() ? strong : display, 28.0f);
    fonts.figures = load(mono, 14.0f);
    if (!mono.empty() && !regular.empty()) {  // raised figures and signs that the monospaced family lacks
        ImFontConfig config;
        config.MergeMode = true;
        config.OversampleH = config.OversampleV = 1;
        atlas.AddFontFromFileTTF(regular.c_str(), std::round(14.0f * scale), &config, glyphs());
    }
    if (regular.empty() || strong.empty()) fonts.missing = "fonts-inter";
    if (mono.empty()) fonts.missing += std::string(fonts.missing.empty() ? "" : " ") + "fonts-jetbrains-mono";
    atlas.Build();
    return fonts;
}

void applyStyle(const Palette& p, float scale) {
    ImGuiStyle& style = ImGui::GetStyle();
    style = ImGuiStyle();
    style.WindowPadding = {0, 0};
    style.WindowBorderSize = style.ChildBorderSize = style.PopupBorderSize = 0.0f;
    style.FrameRounding = 3.0f * scale;
    style.FramePadding = {7.0f * scale, 4.0f * scale};
    style.ScrollbarSize = 9.0f * scale;
    style.ScrollbarRounding = 5.0f * scale;
    style.ItemSpacing = {0, 0};
    const ImVec4 clear{0, 0, 0, 0};
    ImVec4* c = style.Colors;
    c[ImGuiCol_Text] = vec(p.ink);
    c[ImGuiCol_TextDisabled] = vec(p.quiet);
    c[ImGuiCol_WindowBg] = vec(p.paper);
    c[ImGuiCol_ChildBg] = clear;
    c[ImGuiCol_PopupBg] = vec(p.panel);
    c[ImGuiCol_FrameBg] = c[ImGuiCol_FrameBgHovered] = c[ImGuiCol_FrameBgActive] = vec(p.panel);
    c[ImGuiCol_TextSelectedBg] = vec(faded(p.craft[1], 0.30f));
    c[ImGuiCol_NavHighlight] = clear;
    c[ImGuiCol_ScrollbarBg] = clear;
    c[ImGuiCol_ScrollbarGrab] = vec(p.control);
    c[ImGuiCol_ScrollbarGrabHovered] = c[ImGuiCol_ScrollbarGrabActive] = vec(p.ink);
}

}  // namespace linefall
