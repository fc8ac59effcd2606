#include "view/world_view.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstddef>
#include <glm/gtc/type_ptr.hpp>

#include "view/gl.h"

namespace linefall {

void WorldView::Buffers::upload(const Mesh& mesh) {
    if (array == 0) {
        glGenVertexArrays(1, &array);
        glGenBuffers(1, &vertices);
        glGenBuffers(1, &triangles);
    }
    glBindVertexArray(array);
    glBindBuffer(GL_ARRAY_BUFFER, vertices);
    glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(mesh.vertices.size() * sizeof(MeshVertex)), mesh.vertices.data(), GL_STATIC_DRAW);
    glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, triangles);
    glBufferData(GL_ELEMENT_ARRAY_BUFFER, static_cast<GLsizeiptr>(mesh.triangles.size() * sizeof(std::uint32_t)), mesh.triangles.data(),
                 GL_STATIC_DRAW);
    glEnableVertexAttribArray(0);
    glVertexAttribPointer(0, 3, GL_FLOAT, GL_FALSE, sizeof(MeshVertex), nullptr);
    glEnableVertexAttribArray(1);
    glVertexAttribPointer(1, 4, GL_UNSIGNED_BYTE, GL_TRUE, sizeof(MeshVertex), reinterpret_cast<const void*>(offsetof(MeshVertex, red)));
    glBindVertexArray(0);
    count = static_cast<int>(mesh.triangles.size());
}

void WorldView::Buffers::draw() const {
    if (count == 0) return;
    glBindVertexArray(array);
    glDrawElements(GL_TRIANGLES, count, GL_UNSIGNED_INT, nullptr);
    glBindVertexArray(0);
}

void WorldView::Buffers::release() {
    if (array == 0) return;
    glDeleteVertexArrays(1, &array);
    glDeleteBuffers(1, &vertices);
    glDeleteBuffers(1, &triangles);
    array = vertices = triangles = 0;
    count = 0;
}

WorldView::WorldView(const std::string& shader_folder)
    : shader_folder_(shader_folder), world_(shader_folder, "world"), sky_(shader_folder, "sky"), canvas_(std::make_unique<Canvas>()),
      drape_(std::make_unique<Texture>()), software_(glIsSoftware()) {
    if (!software_) {
        coarse_grid_ = 400;
        fine_grid_ = 800;
    }
}

WorldView::~WorldView() {
    for (Buffers* b : {&coarse_, &fine_, &sea_, &objects_, &movers_, &dome_}) b->release();
}

void WorldView::warmUp() {
    setTerrain(std::make_shared<Ground>(HeightField(Raster<float>(2, 2), 1000.0), Raster<std::uint8_t>(), std::vector<Object>(), 0));
    Drape drape;
    drape.side = 2;
    drape.rgba.assign(16, 128);
    drape.horizon.assign(4, haze_);
    setDrape(drape);
    const Mesh speck = terrainMesh(ground_->terrain(), 2);
    setObjects(speck);
    dome_.upload(speck);
    draw(Camera{}, 8, 8, coarse_grid_);
    for (Buffers* b : {&coarse_, &sea_, &objects_, &dome_}) b->count = 0;
    setTerrain(nullptr);
    has_drape_ = false;
    drawn_grid_ = 0;
    haze_ = Colour{128, 140, 150, 255};
}

void WorldView::setTerrain(std::shared_ptr<const Ground> ground) {
    ground_ = std::move(ground);
    coarse_made_ = fine_made_ = 0;
    dirty_ = true;
}

void WorldView::rebuild() {
    for (Buffers* b : {&coarse_, &fine_, &sea_, &objects_, &movers_, &dome_}) b->release();
    canvas_ = std::make_unique<Canvas>();
    drape_ = std::make_unique<Texture>();
    world_ = Shader(shader_folder_, "world");
    sky_ = Shader(shader_folder_, "sky");
    coarse_made_ = fine_made_ = 0;
    if (has_drape_) setDrape(drape_data_);
    objects_.upload(objects_data_);
    movers_.upload(movers_data_);
    if (light_) setSky(*light_);
    dirty_ = true;
}

void WorldView::setDrape(const Drape& drape) {
    if (drape.side == 0 || !ground_) return;
    if (&drape != &drape_data_) drape_data_ = drape;
    if (drape_->columns() != drape.side) drape_->resize(drape.side, drape.side, true);
    drape_->write(0, drape.side, drape.rgba);
    drape_->makeMipmaps();
    has_drape_ = true;
    haze_ = drape.haze;
    sea_.upload(seaMesh(ground_->terrain(), 90000.0, drape.beyond, drape.horizon));
    dirty_ = true;
}

void WorldView::setObjects(const Mesh& mesh) {
    objects_data_ = mesh;
    objects_.upload(mesh);
    dirty_ = true;
}

void WorldView::setMovers(const Mesh& mesh) {
    if (mesh.triangles.empty() && movers_data_.triangles.empty()) return;
    movers_data_ = mesh;
    movers_.upload(mesh);
    dirty_ = true;
}

void WorldView::setSky(const WorldLight& light) {
    if (!light_ || &light != &*light_) light_ = light;
    dome_.upload(skyMesh(light));
    dirty_ = true;
}

bool WorldView::render(const Camera& camera, int columns, int rows, bool refine) {
    if (columns < 8 || rows < 8) return false;
    const bool moved = !(camera == camera_) || columns != canvas_->columns() || rows != canvas_->rows();
    const bool better = refine && drawn_grid_ < fine_grid_;
    if (!moved && !dirty_ && !better) return false;
    const int grid = refine ? fine_grid_ : coarse_grid_;
    const auto start = std::chrono::steady_clock::now();
    draw(camera, columns, rows, grid);
    glFinish();
    draw_ms_ = std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
    if (grid == coarse_grid_ && coarse_made_ == grid) {  // keep the moving view fluent: about 18 ms
        if (draw_ms_ > 26.0 && coarse_grid_ > 72) coarse_grid_ = std::max(72, coarse_grid_ * 7 / 8);
        else if (draw_ms_ < 9.0 && coarse_grid_ < 768) coarse_grid_ = std::min(768, coarse_grid_ * 9 / 8);
        fine_grid_ = std::clamp(2 * coarse_grid_, 224, software_ ? 448 : 1024);
    }
    camera_ = camera;
    dirty_ = false;
    return true;
}

void WorldView::ensureGrid(Buffers& buffers, int& made, int grid) {
    if (made == grid || !ground_) return;
    buffers.upload(terrainMesh(ground_->terrain(), grid));
    made = grid;
}

void WorldView::draw(const Camera& camera, int columns, int rows, int grid) {
    canvas_->begin(columns, rows);
    const auto channel = [](std::uint8_t value) { return static_cast<float>(value) / 255.0f; };
    glClearColor(channel(haze_[0]), channel(haze_[1]), channel(haze_[2]), 1.0f);
    glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
    const double aspect = static_cast<double>(columns) / rows;
    const glm::mat4 clip(camera.clipFromEye(aspect));
    const glm::vec3 eye(camera.eye_m());

    glDisable(GL_DEPTH_TEST);
    glDisable(GL_BLEND);
    glDisable(GL_CULL_FACE);
    glDisable(GL_SCISSOR_TEST);
    sky_.use();
    sky_.set("clip_from_eye", clip);
    sky_.set("radius", static_cast<float>(10.0 * camera.near_m()));
    dome_.draw();

    glEnable(GL_DEPTH_TEST);
    world_.use();
    world_.set("clip_from_eye", clip);
    world_.set("eye", eye);
    world_.set("drape", 0);
    world_.set("draped", 0.0f);
    sea_.draw();
    if (ground_ && has_drape_) {
        const HeightField& terrain = ground_->terrain();
        const bool fine = grid == fine_grid_;
        ensureGrid(fine ? fine_ : coarse_, fine ? fine_made_ : coarse_made_, grid);
        glActiveTexture(GL_TEXTURE0);
        glBindTexture(GL_TEXTURE_2D, drape_->id());
        const float size = static_cast<float>(std::max(terrain.east_m() - terrain.west_m(), terrain.north_m() - terrain.south_m()));
        world_.set("draped", 1.0f);
        world_.set("drape_place", glm::vec4(-0.5f * size, -0.5f * size, 1.0f / size, 1.0f / size));
        (fine ? fine_ : coarse_).draw();
        world_.set("draped", 0.0f);
        objects_.draw();
        movers_.draw();
        drawn_grid_ = grid;
    }
    glDisable(GL_DEPTH_TEST);
    canvas_->end();
}

}  // namespace linefall
