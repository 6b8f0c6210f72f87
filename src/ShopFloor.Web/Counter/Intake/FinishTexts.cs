using ShopFloor.Domain.Recipes;

namespace ShopFloor.Web.Counter.Intake;

/// <summary>The finishes in words for customers, keys of the Counter's texts.</summary>
public static class FinishTexts
{
    public static string Name(Finish finish) =>
        finish switch
        {
            Finish.ShowThrough => "Material shines through",
            Finish.WhiteGround => "White under the picture",
            Finish.VelvetMatt => "Silky matt",
            _ => "Seen through the glass",
        };

    public static string Note(Finish finish) =>
        finish switch
        {
            Finish.ShowThrough => "The material gleams through the colours. There is no white: white parts show the material.",
            Finish.WhiteGround => "Colours as on paper, white is white. The material is hidden.",
            Finish.VelvetMatt => "Soft to the eye, without gloss. White parts show the material.",
            _ => "The picture lies behind the glass and is seen through it.",
        };
}
