using CsCheck;
using ShopFloor.Domain.Film;

namespace ShopFloor.Domain.Tests.Film;

public sealed class FilmLawTests
{
    private static readonly Gen<SprayedRectangle> Rectangles = Gen.Select(
        Gen.Double[-500, 500],
        Gen.Double[-500, 500],
        Gen.Double[1, 300],
        Gen.Double[1, 300],
        (x, y, w, h) => new SprayedRectangle(x, y, w, h)
    );

    private static readonly Gen<FilmSettings> Films = Gen.Select(
        Gen.Double[2, 60],
        Gen.Double[3, 80],
        Gen.Double[10, 95],
        Gen.Double[0, 80],
        (film, solids, efficiency, side) => new FilmSettings(film, solids, efficiency, side, 400)
    );

    // Two plates of 100 × 60 mm with a fan of 30 mm: 160 · 120 mm² each by itself; under each other with 10 mm between them 160 · 190 mm².
    [Fact]
    public void Saved_TwoPlates_IsTheOverlapOfTheirSpray()
    {
        var use = RoundLaying.Saved([(100, 60), (100, 60)], 10, FilmSettings.Default with { OverspraySideMm = 30 })!.Value;
        Assert.Equal(10, use.AloneMillilitres);
        Assert.Equal(10.0 * 160 * 190 / (2 * 160 * 120), use.Millilitres, 1e-9);
        Assert.Null(RoundLaying.Saved([(100, 60)], 10, FilmSettings.Default));
        Assert.Null(RoundLaying.Saved([(100, 60), (100, 60)], 10, FilmSettings.Default with { OverspraySideMm = 0 }));
    }

    [Fact]
    public void SideBySide_AnyPieces_LieApartEachOnce() =>
        Gen.Select(Gen.Double[5, 300], Gen.Double[5, 300])
            .Array[1, 30]
            .Sample(sizes =>
            {
                var laid = RoundLaying.SideBySide(sizes);
                Assert.Equal(sizes.Order(), laid.Select(p => (p.WidthMm, p.HeightMm)).Order());
                Assert.Equal(laid.Sum(p => p.AreaSquareMm), SprayedRectangle.UnionSquareMm(laid), 1e-3);
            });

    [Fact]
    public void UnionSquareMm_AnyRectangles_AgreesWithCountingPoints() =>
        Gen.Select(Gen.Int[0, 12], Gen.Int[0, 12], Gen.Int[1, 6], Gen.Int[1, 6])
            .Array[1, 8]
            .Sample(boxes =>
            {
                SprayedRectangle[] rectangles = [.. boxes.Select(b => new SprayedRectangle(b.Item1, b.Item2, b.Item3, b.Item4))];
                var covered = 0;
                for (var x = 0.5; x < 20; x++)
                {
                    for (var y = 0.5; y < 20; y++)
                    {
                        covered += rectangles.Any(r => x > r.XMm && x < r.XMm + r.WidthMm && y > r.YMm && y < r.YMm + r.HeightMm) ? 1 : 0;
                    }
                }

                Assert.Equal(covered, SprayedRectangle.UnionSquareMm(rectangles), 1e-9);
            });

    [Fact]
    public void UnionSquareMm_OrderAndPlace_DoNotMatter() =>
        Gen.Select(Rectangles.Array[1, 10], Gen.Double[-100, 100])
            .Sample(
                (rectangles, shift) =>
                {
                    var area = SprayedRectangle.UnionSquareMm(rectangles);
                    SprayedRectangle[] moved = [.. rectangles.Reverse().Select(r => r with { XMm = r.XMm + shift })];
                    Assert.Equal(area, SprayedRectangle.UnionSquareMm(moved), area * 1e-9);
                    Assert.InRange(
                        area,
                        rectangles.Max(r => r.AreaSquareMm) * (1 - 1e-9),
                        rectangles.Sum(r => r.AreaSquareMm) * (1 + 1e-9)
                    );
                }
            );

    [Fact]
    public void ForRound_PiecesCloseTogether_NeverTakesMoreThanAlone() =>
        Gen.Select(Rectangles.Array[1, 10], Films, Gen.Int[1, 4])
            .Sample(
                (pieces, film, coats) =>
                {
                    var use = CoatingUse.ForRound(pieces, coats, film).Value.Value;
                    Assert.True(use.Millilitres <= use.AloneMillilitres * (1 + 1e-9));
                    var alone = pieces.Sum(p => CoatingUse.MillilitresPerPiece(p.WidthMm, p.HeightMm, coats, film).Value.Value);
                    Assert.Equal(alone, use.AloneMillilitres, alone * 1e-9);
                }
            );

    [Fact]
    public void ForRound_SixTagsCloseTogether_SavesCoating()
    {
        // Six tags of 50 × 30 mm: apart 6 · 110 · 90, close together 210 · 150 mm² swept.
        var film = new FilmSettings(12, 10, 50, 30, 400);
        SprayedRectangle[] close = [.. Enumerable.Range(0, 6).Select(i => new SprayedRectangle(i % 3 * 50, i / 3 * 30, 50, 30))];
        var use = CoatingUse.ForRound(close, 1, film).Value.Value;
        Assert.Equal(210.0 * 120, use.Millilitres / film.MillilitresPerSquareMm, 1e-6);
        Assert.Equal((6 * 110.0 * 90) - (210 * 120), use.SavedMillilitres / film.MillilitresPerSquareMm, 1e-6);
    }

    [Fact]
    public void WetFilm_ThereAndBack_IsTheSame() =>
        Gen.Select(Gen.Double[1, 500], Gen.Double[1, 100])
            .Sample(
                (dry, solids) =>
                {
                    var wet = SpreadingRate.WetFilmMicrometres(dry, solids);
                    Assert.True(wet >= dry);
                    Assert.Equal(dry, SpreadingRate.DryFilmMicrometres(wet, solids), 1e-9);
                }
            );

    [Fact]
    public void MillilitresPerPiece_SolidsInTheCan_AreFilmPlusLoss() =>
        Films.Sample(film =>
        {
            // Without overspray, solids that leave the can times transfer efficiency are the film on the piece.
            var millilitres = CoatingUse.MillilitresPerPiece(200, 100, 2, film with { OverspraySideMm = 0 }).Value.Value;
            var filmCubicMm = 200 * 100 * 2 * film.DryFilmMicrometres / 1000;
            var solidsCubicMm = millilitres * 1000 * film.VolumeSolidsPercent / 100 * film.TransferEfficiencyPercent / 100;
            Assert.Equal(filmCubicMm, solidsCubicMm, filmCubicMm * 1e-9);
        });

    [Fact]
    public void Cans_AnyNeed_NothingIsLostOrMade() =>
        Gen.Select(Gen.Double[0, 3000], Gen.Double[0, 400], Gen.Double[50, 600])
            .Sample(
                (needed, open, can) =>
                {
                    var cans = CoatingUse.Cans(needed, open, can).Value.Value;
                    Assert.Equal(open + (cans.NewCans * can) - needed, cans.LeftMillilitres, 0.001);
                    Assert.True(cans.NewCans == 0 || cans.LeftMillilitres < can + 0.001);
                }
            );

    [Fact]
    public void Calibration_WeighingsOfAKnownCan_GiveItsNumbersBack() =>
        Films.Sample(film =>
        {
            const double ContentDensity = 0.8;
            const double FilmDensity = 1.2;
            var solidsByMass = film.VolumeSolidsPercent / 100 * FilmDensity / ContentDensity;
            if (solidsByMass >= 1)
            {
                return;
            }

            var caught = new CatchWeighing(400, 390, 20, 20 + (10 * solidsByMass), ContentDensity, FilmDensity);
            var millilitres = CoatingUse.MillilitresPerPiece(300, 200, 1, film).Value.Value;
            var coat = 300 * 200 * film.DryFilmMicrometres / 1e6 * FilmDensity;
            var panel = new PanelWeighing(1500, 1500 - (millilitres * ContentDensity), 500, 500 + coat, 300, 200, film.OverspraySideMm, 1);
            if (millilitres * ContentDensity >= 1500)
            {
                return;
            }

            var found = FilmCalibration.From(caught, panel).Value.Value;
            Assert.Equal(film.VolumeSolidsPercent, found.VolumeSolidsPercent, 1e-6);
            Assert.Equal(film.TransferEfficiencyPercent, found.TransferEfficiencyPercent, 1e-6);
            Assert.Equal(film.DryFilmMicrometres, found.DryFilmMicrometres, 1e-6);
            Assert.Equal(found.DryFilmMicrometres, found.ApplyTo(FilmSettings.Default).DryFilmMicrometres);
        });

    [Fact]
    public void Calibration_MoreResidueThanSprayed_IsRefusedAtItsField()
    {
        var caught = new CatchWeighing(400, 390, 20, 31, 0.8, 1.2);
        var panel = new PanelWeighing(400, 390, 500, 500.2, 300, 200, 30, 1);
        var refusal = Assert.Single(FilmCalibration.From(caught, panel).Refusals);
        Assert.Equal(("more-out-than-in", "TinBakedGrams"), (refusal.Code, refusal.Field));
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(-1)]
    [InlineData(0)]
    public void MillilitresPerPiece_ImpossibleWidth_IsRefusedInASentence(double widthMm)
    {
        var refusal = Assert.Single(CoatingUse.MillilitresPerPiece(widthMm, 100, 1, FilmSettings.Default).Refusals);
        Assert.Equal("faceWidthMm", refusal.Field);
        Assert.StartsWith("The width must be more than 0", refusal.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void ReorderPoint_SlowerDelivery_IsHigher()
    {
        Assert.Equal(300, CoatingUse.ReorderPointMillilitres(30, 7, 3).Value.Value);
        Assert.False(CoatingUse.ReorderPointMillilitres(-1, 7, 3).IsOk);
    }
}
