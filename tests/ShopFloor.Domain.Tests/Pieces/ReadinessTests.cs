using ShopFloor.Domain.Pieces;

namespace ShopFloor.Domain.Tests.Pieces;

/// <summary>One rule says when an order is ready: everything that is not over is packed.</summary>
public sealed class ReadinessTests
{
    private static readonly PieceStand Packed = new(PieceState.CheckedGood, HasStep: false);
    private static readonly PieceStand ToPack = new(PieceState.CheckedGood, HasStep: true);
    private static readonly PieceStand InWork = new(PieceState.InWork, HasStep: true);
    private static readonly PieceStand Gone = new(PieceState.HandedOver, HasStep: false);
    private static readonly PieceStand Lost = new(PieceState.Spoiled, HasStep: true);

    [Fact]
    public void IsReady_AllThatIsNotOverIsPacked_IsTrueThenAlone()
    {
        Assert.True(Readiness.IsReady([Packed, Packed, Gone, Lost]));
        Assert.False(Readiness.IsReady([Packed, ToPack]));
        Assert.False(Readiness.IsReady([Packed, InWork]));
        Assert.False(Readiness.IsReady([Gone, Lost]));
        Assert.False(Readiness.IsReady([]));
    }

    [Fact]
    public void IsStillToPack_OnlyPackingIsLeft_IsTrueThenAlone()
    {
        Assert.True(Readiness.IsStillToPack([Packed, ToPack, Lost]));
        Assert.False(Readiness.IsStillToPack([Packed, Gone]));
        Assert.False(Readiness.IsStillToPack([ToPack, InWork]));
    }
}
