using CsCheck;
using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Tests.Pricing;

public sealed class ApportionTests
{
    [Fact]
    public void ByWeight_ThreeEqualShares_FirstGetsTheOddCent() =>
        Assert.Equal([33.34m, 33.33m, 33.33m], Apportion.ByWeight(new(100m, "EUR"), [1, 1, 1]).Select(m => m.Amount));

    [Fact]
    public void ByWeight_NegativeTotal_LosesNoCent() =>
        Assert.Equal(-10m, Apportion.ByWeight(new(-10m, "EUR"), [3, 3, 1]).Sum(m => m.Amount));

    [Fact]
    public void ByWeight_CurrencyWithoutCents_GivesWholeUnits() =>
        Assert.Equal([34m, 33m, 33m], Apportion.ByWeight(new(100m, "JPY"), [1, 1, 1]).Select(m => m.Amount));

    [Fact]
    public void ByLargestRemainder_SharesOfAnotherTotal_Throws() =>
        Assert.Throws<ArgumentException>(() => Apportion.ByLargestRemainder([1m, 2m], 5m, 2));

    [Fact]
    public void ByWeight_AnyTotalAndWeights_SumIsTheTotalAndEachWithinOneCent() =>
        Gen.Select(Gen.Int[-10_000_000, 10_000_000], Gen.Int[0, 1000].Array[1, 40])
            .Sample(
                (cents, weights) =>
                {
                    var total = cents / 100m;
                    var shares = Apportion.ByWeight(new Money(total, "EUR"), [.. weights.Select(w => (decimal)w)]);
                    var sum = weights.Sum();
                    Assert.Equal(total, shares.Sum(s => s.Amount));
                    for (var i = 0; i < weights.Length; i++)
                        Assert.True(Math.Abs(shares[i].Amount - (sum == 0 ? total / weights.Length : total * weights[i] / sum)) < 0.01m);
                }
            );
}
