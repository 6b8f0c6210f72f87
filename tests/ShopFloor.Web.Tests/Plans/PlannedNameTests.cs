using ShopFloor.Web.Background.Plans;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>A planned batch cannot be taken for a real one of nearly the same name.</summary>
public sealed class PlannedNameTests
{
    [Theory]
    [InlineData("L1", "A")]
    [InlineData("R26", "Z")]
    [InlineData("S27", "AA")]
    [InlineData("L703", "AAA")]
    [InlineData("L-2", "L-2")]
    [InlineData("S-K3F7QX", "S-K3F7QX")]
    [InlineData("L", "L")]
    public void Of_WhatThePlanNamed_IsALetterAndARealBatchKeepsItsCode(string id, string said) => Assert.Equal(said, PlannedName.Of(id));
}
